// Package plan finds a program for a load: it asks a rule what each piece needs,
// composes that, rounds it to the controller, and slows it until the simulation
// finds it within the limits. It says whether a load can share one program, and
// when it must start to be ready.
//
// It judges nothing itself: package verify does. A search for the shortest
// program is in package shortest.
package plan
