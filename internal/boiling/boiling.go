// Package boiling tells at what temperature water boils in a kitchen, from the
// kitchen's height above sea level or from a barometer's reading.
//
// Two published pieces are put together: the pressure of the U.S. Standard
// Atmosphere, 1976 (NOAA-S/T 76-1562), and the saturation line of the IAPWS
// Industrial Formulation 1997 (IAPWS R7-97(2012), region 4).
//
// It refuses to know the weather (a deep low or a strong high moves the boiling
// point by about half a degree), salt or sugar in the water, and a pressure
// cooker's gauge. It answers for pure water in an open pot.
package boiling

import "fmt"

// Ends of what the functions accept.
const (
	// LowestAltitude and HighestAltitude bound Point and Pressure, in metres
	// above sea level. The shore of the Dead Sea lies at about −430 m, the
	// highest lasting settlement at about 5,100 m.
	LowestAltitude  = -500.0
	HighestAltitude = 9000.0

	// LowestKelvin and HighestKelvin bound the saturation line: from the
	// temperature of the ice point to the critical temperature of water, in
	// kelvins (IAPWS R7-97, section 8).
	LowestKelvin  = 273.15
	HighestKelvin = 647.096

	// LowestKilopascal and HighestKilopascal are the pressures at those two
	// ends, in kilopascals (611.213 Pa and 22.064 MPa; IAPWS R7-97, section 8.2).
	LowestKilopascal  = 0.611213
	HighestKilopascal = 22064.0
)

// zeroCelsius is 0 °C in kelvins.
const zeroCelsius = 273.15

// Point returns the boiling point of water in degrees Celsius at an altitude in
// metres above sea level, as a map gives it (geometric height), under the
// standard atmosphere. The altitude must lie between LowestAltitude and
// HighestAltitude. At sea level the answer is 99.974 °C, not 100: the Celsius
// scale of today (ITS-90) is no longer fixed to boiling water.
func Point(altitudeMeters float64) (celsius float64, err error) {
	if err := checkAltitude(altitudeMeters); err != nil {
		return 0, err
	}
	return Saturation(Pressure(Geopotential(altitudeMeters)))
}

// checkAltitude refuses heights outside the range of the package, and NaN.
func checkAltitude(meters float64) error {
	if !(meters >= LowestAltitude && meters <= HighestAltitude) {
		return fmt.Errorf("altitude %g m is out of range (it must lie between %g m and %g m)",
			meters, LowestAltitude, HighestAltitude)
	}
	return nil
}
