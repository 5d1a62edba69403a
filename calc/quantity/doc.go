// Package quantity converts between the units of the trade: angle, speed,
// length, pressure (and vacuum), temperature, torque, force, spring rate.
//
// Conversions inside one of the inch or metric families and between the two
// are exact up to float64 rounding, because the inch (25.4 mm), the pound
// (0.45359237 kg) and standard gravity (9.80665 m/s²) are exact by
// definition. Mercury columns are the conventional ones (density 13 595.1
// kg/m³ under standard gravity), 1 inHg = 3386.389 Pa.
package quantity
