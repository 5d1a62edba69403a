// Package clock relates crank degrees to time at a given engine speed.
package clock
