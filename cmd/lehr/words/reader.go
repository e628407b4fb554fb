package words

import (
	"strings"

	"lehr/glass/strict"
)

// Fields says by the key of a setting what its field of a form is called, and
// whether what stands in it is chosen from a list; "" for one without a field. nil is
// for who reads files and command lines.
type Fields func(key string) (label string, chosen bool)

// Say phrases advice for who fills in the form, or, nil, for who reads files. A
// setting without a field keeps its file.
func (of Fields) Say(a strict.Advice) string {
	if of == nil {
		return a.String()
	}
	return a.Say(of.step)
}

// inPiece begins the keys that stand behind a piece in its line of a form.
const inPiece = "piece."

func (of Fields) step(s strict.Step) string {
	switch s.Do {
	case "":
		return s.String()
	case "list":
		return "choose one from the list"
	case "split":
		return "plan them in two firings"
	}
	if key, ok := strings.CutPrefix(s.Key, inPiece); ok {
		key = strings.ReplaceAll(key, "_", " ")
		set := `"; ` + key + " " + s.Text + `"`
		switch s.Do {
		case "leave":
			return "leave " + key + " out"
		case "write":
			return "write " + set
		case "set":
			return set
		}
		return key
	}
	label, chosen := of(s.Key)
	set, write := `"`+s.Text+`" under `+label, "fill in "
	if chosen {
		set, write = s.Text+" under "+label, "choose "
	}
	switch {
	case label == "":
		return s.String()
	case s.Do == "leave":
		return "leave " + label + " empty"
	case s.Do == "write":
		return write + set
	case s.Do == "set":
		return set
	}
	return label
}

// For speaks to who fills in a form with these fields.
func (w Words) For(of Fields) Words {
	w.fields = of
	return w
}

// onPage is Say for the reader of a page, who is not at the form.
func (of Fields) onPage(a strict.Advice) string {
	if of == nil {
		return a.String()
	}
	return a.Say(func(s strict.Step) string {
		text := of.step(s)
		if label, _ := of(s.Key); label != "" && s.Do == "name" && !s.Near {
			text += " in the form"
		}
		return text
	})
}

// giveOpening asks to enter a reading that was named as that at which the kiln is opened.
func (of Fields) giveOpening() string {
	if of != nil {
		return "give that reading in the form, under " + of.Say("{kiln.opening}")
	}
	return of.Say("give that as {kiln.opening}")
}
