// Package sourcetest judges what rules and figures say of their sources. For
// tests only.
package sourcetest

import "lehr/safety/source"

// Faults returns what speaks against a status that rests on these sources: a
// key that is not listed, memory as the only support, verified without a text
// that was read, common practice or a reason that does not say so.
func Faults(status source.Status, keys ...string) []string {
	var faults []string
	found := source.Of(keys...)
	if len(found) != len(keys) || len(keys) == 0 {
		faults = append(faults, "a source is not listed")
	}
	read, practice := false, false
	for _, s := range found {
		read = read || s.Itself
		practice = practice || s.Key == source.Practice || s.Key == source.FirstAid
	}
	switch {
	case status == source.Memory:
		faults = append(faults, "rests on memory alone")
	case status == source.Verified && !read:
		faults = append(faults, "verified, but no text of it was read")
	case (status == source.CommonPractice) != practice:
		faults = append(faults, "common practice and its source do not go together")
	}
	return faults
}
