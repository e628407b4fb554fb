package source

// Status says how well a source was read.
type Status string

// The statuses, from the best to the weakest.
const (
	Corroborated   Status = "corroborated"    // two independent texts say it
	Verified       Status = "verified"        // read in the text, or in a named copy of it
	Derived        Status = "derived"         // worked out here
	Memory         Status = "memory"          // not seen in print; such a number never prints
	CommonPractice Status = "common practice" // the trade's habit; no published source
)
