package boiling

import (
	"fmt"
	"math"
)

// region4 holds the ten coefficients n1 to n10 of the saturation line, IAPWS
// R7-97(2012), table 34.
func region4() [10]float64 {
	return [10]float64{
		0.11670521452767e4,
		-0.72421316703206e6,
		-0.17073846940092e2,
		0.12020824702470e5,
		-0.32325550322333e7,
		0.14915108613530e2,
		-0.48232657361591e4,
		0.40511340542057e6,
		-0.23855557567849,
		0.65017534844798e3,
	}
}

// Saturation returns the temperature in degrees Celsius at which water boils
// under a pressure in kilopascals (10 hPa, as a barometer shows them, are 1 kPa).
// The pressure must lie between LowestKilopascal and HighestKilopascal.
//
// With β = (p / 1 MPa)^(1/4) the temperature in kelvins is
//
//	T = [n10 + D − √((n10 + D)² − 4 (n9 + n10 D))] / 2
//	D = 2G / (−F − √(F² − 4 E G))
//	E = β² + n3 β + n6,  F = n1 β² + n4 β + n7,  G = n2 β² + n5 β + n8
//
// Source: IAPWS R7-97(2012), backward equation 31.
func Saturation(kilopascal float64) (celsius float64, err error) {
	if !(kilopascal >= LowestKilopascal && kilopascal <= HighestKilopascal) {
		return 0, fmt.Errorf("pressure %g kPa is out of range (it must lie between %g kPa and %g kPa)",
			kilopascal, LowestKilopascal, HighestKilopascal)
	}
	n := region4()
	beta := math.Pow(kilopascal/1000, 0.25)
	e := beta*beta + n[2]*beta + n[5]
	f := n[0]*beta*beta + n[3]*beta + n[6]
	g := n[1]*beta*beta + n[4]*beta + n[7]
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	sum := n[9] + d
	kelvin := (sum - math.Sqrt(sum*sum-4*(n[8]+n[9]*d))) / 2
	return kelvin - zeroCelsius, nil
}

// SaturationPressure returns the pressure in kilopascals under which water boils
// at a temperature in degrees Celsius, from 0 °C to the critical 373.946 °C.
//
// With ϑ = T + n9 / (T − n10) and T in kelvins the pressure is
//
//	p = 1 MPa · [2C / (−B + √(B² − 4 A C))]⁴
//	A = ϑ² + n1 ϑ + n2,  B = n3 ϑ² + n4 ϑ + n5,  C = n6 ϑ² + n7 ϑ + n8
//
// Source: IAPWS R7-97(2012), equation 30.
func SaturationPressure(celsius float64) (kilopascal float64, err error) {
	kelvin := celsius + zeroCelsius
	if !(kelvin >= LowestKelvin && kelvin <= HighestKelvin) {
		return 0, fmt.Errorf("temperature %g °C is out of range (it must lie between %g °C and %.3f °C)",
			celsius, LowestKelvin-zeroCelsius, HighestKelvin-zeroCelsius)
	}
	n := region4()
	theta := kelvin + n[8]/(kelvin-n[9])
	a := theta*theta + n[0]*theta + n[1]
	b := n[2]*theta*theta + n[3]*theta + n[4]
	c := n[5]*theta*theta + n[6]*theta + n[7]
	root := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return 1000 * root * root * root * root, nil
}
