// Package flame is the inner room of the burning itself: how fast a flame
// runs through petrol and air that stands still (Laminar), where the burning
// ends when the flame has a chamber to cross (Travel), and the classroom's rule
// of what speed does to the spark (BurnScale).
package flame
