package source

// Status says how well a source was read.
type Status string

// The statuses, from the best to the weakest.
const (
	Corroborated   Status = "corroborated"    // two independent texts that were read say it
	Verified       Status = "verified"        // read in the text itself
	Quoted         Status = "quoted"          // read in one other text that quotes it
	Derived        Status = "derived"         // worked out here
	CommonPractice Status = "common practice" // the trade's habit; no published source
	Memory         Status = "memory"          // not seen in print; supports no line alone, and the figure it supports says so
)
