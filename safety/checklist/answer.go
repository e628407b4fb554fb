package checklist

// Answer is yes, no, or not given. The zero value is not given, and a rule
// then takes the hazard to be present.
type Answer int

// The answers.
const (
	NotGiven Answer = iota
	Yes
	No
)

// String returns "yes", "no", or the empty string when nothing was given.
func (a Answer) String() string {
	switch a {
	case Yes:
		return "yes"
	case No:
		return "no"
	}
	return ""
}

// answerOf turns what a file or a flag holds into an Answer.
func answerOf(v any) (Answer, bool) {
	switch v := v.(type) {
	case bool:
		if v {
			return Yes, true
		}
		return No, true
	case string:
		switch plain(v) {
		case "yes", "true", "y":
			return Yes, true
		case "no", "false", "n":
			return No, true
		}
	}
	return NotGiven, false
}
