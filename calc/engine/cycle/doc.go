// Package cycle is the inner room of the engine: the slider-crank, the burning
// of a charge by Wiebe's function, and one cylinder of one zone taken from
// bottom dead centre through compression, burning and expansion. Everything
// is in ratios to the state at bottom dead centre, so no size of engine is
// needed; Woschni's heat loss alone asks for bore, stroke and speed.
//
// Crank degrees count from top dead centre at the end of compression, before
// it negative.
package cycle
