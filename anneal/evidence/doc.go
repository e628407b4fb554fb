// Package evidence runs the check cases that are embedded in the program and
// says, quantity by quantity, how far its answers lie from what texts print,
// closed forms give and general-purpose codes compute.
//
// Each package answers its own cases, in its function Cases; the tests of those
// packages pose them in the same way. This package gathers the answers and
// judges nothing but them: it knows no load and no program. It leaves the words
// for what it found to its caller.
package evidence
