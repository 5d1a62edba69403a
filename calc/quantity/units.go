package quantity

import "math"

// kind is what a unit measures; only units of one kind convert.
type kind string

// unit takes a value v to the kind's own base by (v + shift) × factor.
type unit struct {
	kind   kind
	factor float64
	shift  float64
	say    string
}

// Exact by international definition: the inch (1959), the avoirdupois pound
// (1959), standard gravity (3rd CGPM 1901), the atmosphere (10th CGPM 1954).
const (
	inch     = 0.0254
	pound    = 0.45359237
	gravity  = 9.80665
	poundF   = pound * gravity
	mercury  = 13595.1 * gravity / 1000 // Pa per mm, conventional column (check: 1 mmHg = 133.322 Pa)
	standard = 101325
)

const (
	angle       kind = "angle"
	shaftAngle  kind = "shaft angle"
	shaftSpeed  kind = "shaft speed"
	length      kind = "length"
	pressure    kind = "pressure"
	temperature kind = "temperature"
	torque      kind = "torque"
	force       kind = "force"
	springRate  kind = "spring rate"
)

// units holds every unit by the name used in JSON. Distributor figures are
// those of the ordinary four-stroke whose distributor turns at half engine
// speed; a spec with another drive carries its own ratio (advance room).
var units = map[string]unit{
	"deg":    {angle, math.Pi / 180, 0, "degrees"},
	"arcmin": {angle, math.Pi / 180 / 60, 0, "minutes of arc"},
	"rad":    {angle, 1, 0, "radians"},
	"turn":   {angle, 2 * math.Pi, 0, "turns"},

	"crankDeg": {shaftAngle, 1, 0, "crank degrees"},
	"distDeg":  {shaftAngle, 2, 0, "distributor degrees"},

	"engineRPM": {shaftSpeed, 1, 0, "engine rpm"},
	"distRPM":   {shaftSpeed, 2, 0, "distributor rpm"},

	"mm":   {length, 1e-3, 0, "millimetres"},
	"cm":   {length, 1e-2, 0, "centimetres"},
	"m":    {length, 1, 0, "metres"},
	"in":   {length, inch, 0, "inches"},
	"thou": {length, inch / 1000, 0, "thousandths of an inch"},
	"ft":   {length, 12 * inch, 0, "feet"},

	"Pa":     {pressure, 1, 0, "pascals"},
	"kPa":    {pressure, 1e3, 0, "kilopascals"},
	"mbar":   {pressure, 1e2, 0, "millibars"},
	"bar":    {pressure, 1e5, 0, "bar"},
	"atm":    {pressure, standard, 0, "standard atmospheres"},
	"psi":    {pressure, poundF / (inch * inch), 0, "pounds per square inch"},
	"inHg":   {pressure, mercury * 25.4, 0, "inches of mercury"},
	"mmHg":   {pressure, mercury, 0, "millimetres of mercury"},
	"cmHg":   {pressure, mercury * 10, 0, "centimetres of mercury"},
	"torr":   {pressure, standard / 760.0, 0, "torr"},
	"inH2O":  {pressure, gravity * 25.4, 0, "inches of water"},
	"mmH2O":  {pressure, gravity, 0, "millimetres of water"},
	"kgfcm2": {pressure, gravity * 1e4, 0, "kilograms-force per square centimetre"},

	"K": {temperature, 1, 0, "kelvin"},
	"C": {temperature, 1, 273.15, "degrees Celsius"},
	"F": {temperature, 5.0 / 9, 459.67, "degrees Fahrenheit"},

	"Nm":    {torque, 1, 0, "newton metres"},
	"lbfft": {torque, poundF * 12 * inch, 0, "pound-force feet"},
	"lbfin": {torque, poundF * inch, 0, "pound-force inches"},
	"kgfm":  {torque, gravity, 0, "kilogram-force metres"},
	"kgfcm": {torque, gravity / 100, 0, "kilogram-force centimetres"},

	"N":   {force, 1, 0, "newtons"},
	"lbf": {force, poundF, 0, "pounds-force"},
	"ozf": {force, poundF / 16, 0, "ounces-force"},
	"gf":  {force, gravity / 1000, 0, "grams-force"},
	"kgf": {force, gravity, 0, "kilograms-force"},

	"N/m":    {springRate, 1, 0, "newtons per metre"},
	"N/mm":   {springRate, 1e3, 0, "newtons per millimetre"},
	"lbf/in": {springRate, poundF / inch, 0, "pounds-force per inch"},
	"ozf/in": {springRate, poundF / 16 / inch, 0, "ounces-force per inch"},
	"gf/mm":  {springRate, gravity, 0, "grams-force per millimetre"},
	"kgf/mm": {springRate, gravity * 1000, 0, "kilograms-force per millimetre"},
}
