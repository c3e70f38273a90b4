package boiling

import "math"

// Geopotential returns the geopotential height in metres that belongs to a
// geometric height in metres:
//
//	H = r0 Z / (r0 + Z),  r0 = 6,356,766 m
//
// (U.S. Standard Atmosphere, 1976, equation 18.) At 3,000 m the two differ by
// 1.4 m, which moves the boiling point by five thousandths of a degree.
func Geopotential(geometricMeters float64) float64 {
	const r0 = 6356766
	return r0 * geometricMeters / (r0 + geometricMeters)
}

// Pressure returns the pressure of the standard atmosphere in kilopascals at a
// geopotential height in metres, in the lowest layer (up to 11,000 m, where the
// temperature falls by 6.5 K a kilometre):
//
//	p = p0 [(T0 − L H) / T0]^(g0 M0 / (R* L))
//
// Source: U.S. Standard Atmosphere, 1976, equation 33a and table 2, with
// p0 = 101.325 kPa, T0 = 288.15 K, L = 6.5 K/km, g0 = 9.80665 m/s²,
// M0 = 28.9644 kg/kmol, R* = 8314.32 J/(kmol K). A height that makes the
// temperature of that layer negative gives NaN; callers stay in the range of Point.
func Pressure(geopotentialMeters float64) (kilopascal float64) {
	const (
		p0 = 101.325
		t0 = 288.15
		l  = 0.0065
		g0 = 9.80665
		m0 = 28.9644
		r  = 8314.32
	)
	return p0 * math.Pow((t0-l*geopotentialMeters)/t0, g0*m0/(r*l))
}
