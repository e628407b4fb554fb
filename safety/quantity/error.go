package quantity

import "fmt"

// Error says which quantity or session fact could not be read and what to write.
type Error struct {
	Key    string // the fact or quantity, such as "eye_distance"
	Value  string // as typed; empty if there is none to show
	Reason string
	Next   string // one thing to do, or empty
}

// Error returns the fact, the value as typed and the reason.
func (e *Error) Error() string {
	switch {
	case e.Key == "":
		return fmt.Sprintf("%s: %s", e.Value, e.Reason)
	case e.Value == "":
		return fmt.Sprintf("%s: %s", e.Key, e.Reason)
	}
	return fmt.Sprintf("%s %s: %s", e.Key, e.Value, e.Reason)
}

// Hint returns the next thing to do, or the empty string.
func (e *Error) Hint() string { return e.Next }
