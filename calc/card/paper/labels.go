package paper

// The parts of a card, in the order of the sheet.
const (
	asSet       = "As it was set"
	distributor = "Distributor"
	ignition    = "Ignition"
	engine      = "Car and engine"
	condition   = "Condition"
)

var groups = []string{asSet, distributor, ignition, engine, condition}

// label names a fact that cards hold, by the app's name of it.
type label struct{ key, group, text string }

// labels are the app's own words; pwa/test holds one to the other.
var labels = []label{
	{"year", engine, "Year"}, {"layout", engine, "Layout"}, {"cylinders", engine, "Cylinders"},
	{"capacity", engine, "Capacity"}, {"chamber", engine, "Combustion chamber"}, {"cam", engine, "Camshaft"},
	{"compressionRatio", engine, "Compression ratio"}, {"crankRotation", engine, "Crank turns, seen from the pulley"},
	{"pulleyDiameter", engine, "Diameter where the marks are"},
	{"altitude", engine, "Height above the sea where it is used"}, {"modifications", engine, "What is not standard"},
	{"owner", engine, "Owner"},
	{"story", engine, "What it does wrong, since when, after what change"},
	{"voltage", ignition, "System voltage"}, {"earth", ignition, "Battery terminal to earth"},
	{"charging", ignition, "Charged by"}, {"trigger", ignition, "Electronic trigger instead of points"},
	{"coilOhm", ignition, "Coil, primary resistance"}, {"ballast", ignition, "Ballast"},
	{"ballastOhm", ignition, "Ballast resistance"}, {"condenser", ignition, "Condenser"},
	{"plugGap", ignition, "Plug gap"}, {"feedVoltage", ignition, "Voltage at the coil feed, points closed"},
	{"pointsKind", distributor, "Points"}, {"drive", distributor, "Drive"},
	{"limitPlate", distributor, "Number on the stop’s plate"}, {"capsuleCode", distributor, "Vacuum capsule code"},
	{"vacuumPort", distributor, "Vacuum pipe goes to"}, {"gap", distributor, "Points gap, by the book"},
	{"dwell", distributor, "Dwell, by the book"},
	{"staticTiming", distributor, "Static timing, engine stopped, by the book"},
	{"compression", condition, "Compressions, cylinder by cylinder"},
	{"sidePlay", condition, "Side play of the shaft"}, {"scatter", condition, "Scatter between cylinders"},
	{"dwellIdle", condition, "Dwell at idle"}, {"dwellFast", condition, "Dwell at a faster speed"},
	{"capsuleCheck", condition, "Vacuum capsule, as tested"},
}

// elsewhere are facts that other lines of the card say, in words of their own.
var elsewhere = map[string]bool{"firingOrder": true, "rotation": true, "fuel": true, "markMeaning": true,
	"idleSpeed": true, "idleVacuum": true, "strobeTiming": true, "strobeSpeed": true, "strobeVacuum": true,
	"sparkAssumed": true, "chosenCurve": true}
