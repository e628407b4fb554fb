// Package rule holds the published cycles as data (rules.toml), each with the
// glass and thickness it was published for, and the rule that works from the
// properties of any glass. [Rule.Apply] refuses outside its range.
//
// Every number carries its source and how well that source was read. The
// package knows no simulation, so that rule and simulation can disagree; it
// plans no load, which package plan does with what it asks for.
package rule
