// Package root finds the zero of a continuous function of one variable inside
// a bracket whose ends have opposite signs. It is the one root finder of the
// physics packages.
package root
