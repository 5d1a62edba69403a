// Package knock is the inner room of the end gas: how long petrol and air stand
// pressure and heat before they go off by themselves (Delay), and what part of
// that time is used up along a course of pressure and heat (Integral).
package knock
