package checklist

import "testing"

// TestLine_First: a line is cut where a sentence of the list ends, and never inside
// what a person typed.
func TestLine_First(t *testing.T) {
	for _, c := range []struct{ words, phone, want string }{
		{"Call {phone}, then go. Shut it. And all the rest of it, which is a long one by any count.", "Dr. Lee, No. 4. Ext. 2", "Call Dr. Lee, No. 4. Ext. 2, then go. Shut it."},
		{"On the kiln: phone number {phone}, set points, expected end, and whatever else there is.", "Dr. Lee", "On the kiln: phone number Dr. Lee, set points, expected end, and whatever else there is."},
		{"Call {phone}. Then do all the rest of it, which is a long sentence by any count.", "Dr. No", "Call Dr. No."},
		{"Short. All of it.", "", "Short. All of it."},
		{"A first sentence that is longer than anything that fits into one row of a terminal. Next.", "", "A first sentence that is longer than anything that fits into one row of a terminal."},
		{"Keep [20 ft. or so|6 m. or so] from it, at the least, and do not step back over that line. Next.", "", "Keep 6 m. or so from it, at the least, and do not step back over that line."},
	} {
		l := Line{}
		l.Text, _, l.ends = render(c.words, Facts{Phone: c.phone}, Program{})
		if got := l.First(68); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	if got := (&Line{Text: "made by hand. all of it, and it goes on for longer than a row of a terminal has"}).First(20); len(got) < 60 {
		t.Errorf("%q", got)
	}
}
