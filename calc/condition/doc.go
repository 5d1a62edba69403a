// Package condition is the room of the checks that come before any setting:
// shaft, plate, points, condenser, rotor, cap, leads, plugs, capsule, battery,
// feed, coil, and the engine itself. Each check is data: what it is, how it is
// done by hand, the limits with their sources, what a fail means, and the
// caution that stands before it. List gives them in the order that wastes
// least time; Judge holds results against them. The car's own limits beat the
// general ones, and a check skipped with a reason stays unknown.
package condition
