package web

import (
	"fmt"
	"net/http/httptest"
	"strings"
	"testing"
)

// fourKinds is a form of four kinds of piece, one more than a curve shows unasked.
func fourKinds() string {
	return with("pieces", "4 x sphere 2in\n14 x sphere 1.25in\n6 x rod 10mm x 200mm\n8 x pendant 45mm x 12mm").Encode()
}

// drawnIn lists the pieces that the curve of a page names, and the links that draw
// others, by their words.
func drawnIn(n node) (names string, links map[string]string) {
	links = map[string]string{}
	for _, text := range n.section("curve").all("svg")[0].all("text") {
		names += text.text() + "\n"
	}
	for _, a := range n.section("curve").all("a") {
		links[a.text()] = a.attr("href")
	}
	return names, links
}

// TestSite_draw follows the links under the curve: each draws one piece more or
// less, keeps the ticks, and plans nothing.
func TestSite_draw(t *testing.T) {
	s, planned := counted()
	at := "/sheet?" + fourKinds() + "&tick=keyed1"
	get := func() (string, map[string]string, node) {
		t.Helper()
		n := wantAccessible(t, ask(t, s, "GET", strings.TrimSuffix(at, "#curve"), nil).Body.Bytes())
		names, links := drawnIn(n)
		return names, links, n
	}
	names, links, _ := get()
	var missing string
	for what, href := range links {
		if name, ok := strings.CutPrefix(what, "Draw "); ok {
			missing, at = strings.TrimSuffix(name, ", too"), href
		}
	}
	if len(links) != 4 || missing == "" || strings.Contains(names, missing) {
		t.Fatalf("%d links, without %q: %v", len(links), missing, names)
	}
	names, links, _ = get()
	if !strings.HasSuffix(at, "#curve") || !strings.Contains(names, missing+": ") || len(links) != 4 || strings.Count(names, ": ") != 4 {
		t.Errorf("with %s: %d links, %v", missing, len(links), names)
	}
	for left := 3; left > 0; left-- {
		for what, href := range links {
			if what != "Leave out "+missing && strings.HasPrefix(what, "Leave out ") {
				at = href
			}
		}
		names, links, _ = get()
	}
	_, _, n := get()
	box, _ := n.byID("keyed1")
	if !strings.Contains(names, missing) || strings.Contains(names, "sphere 2in,") || len(links) != 3 || box.Attr[2].Key != "checked" || planned.Load() != 1 {
		t.Errorf("%s alone: %d links, planned %d times, %v", missing, len(links), planned.Load(), names)
	}
	// What is no piece is none.
	at = "/sheet?" + fourKinds() + "&draw=9&draw=x&draw=-1&draw=2&draw=2"
	if names, _, _ = get(); !strings.Contains(names, "sphere 1.25in") || strings.Contains(names, "rod") || planned.Load() != 1 {
		t.Errorf("planned %d times: %v", planned.Load(), names)
	}
}

const ownProgram = "from = \"560 °C\"\n[[segment]]\nhold = \"40 min\"\n[[segment]]\nrate = \"90 °C/h\"\nto = \"43 °C\"\n"

// TestSite_over: a program of one's own is drawn over the planned one, with its
// verdict; what is wrong with it is said at its field, with the line.
func TestSite_over(t *testing.T) {
	s, planned := counted()
	n := wantAccessible(t, ask(t, s, "GET", "/sheet?"+with("over", ownProgram).Encode(), nil).Body.Bytes())
	names, _ := drawnIn(n)
	text := n.section("curve").text()
	for _, want := range []string{"planned, sphere 2.5in: ", "your own, sphere 2.5in: "} {
		if !strings.Contains(names, want) {
			t.Errorf("the key does not say %q: %v", want, names)
		}
	}
	if verdict, _ := n.byID("verdict"); !strings.Contains(text, "Solid: planned. Long dashes: your own, ends ") || !strings.Contains(text, "OVER A LIMIT") || verdict.text() != "Within limits" {
		t.Errorf("%s: %s", verdict.text(), text)
	}
	if planned.Load() != 1 {
		t.Errorf("planned %d times", planned.Load())
	}
	w := ask(t, s, "GET", "/sheet?"+with("over", strings.Replace(ownProgram, "90 °C/h", "90", 1)).Encode(), nil)
	e, ok := wantAccessible(t, w.Body.Bytes()).byID("over-error")
	if !ok || w.Code != 422 || !strings.Contains(e.text(), "line 5: ") || !strings.Contains(e.text(), "has no unit") {
		t.Errorf("status %d: %s", w.Code, e.text())
	}
}

// TestBrowser_draw draws one more piece with the keyboard alone.
func TestBrowser_draw(t *testing.T) {
	needLong(t)
	s, planned := counted()
	server := httptest.NewServer(s)
	defer server.Close()
	h := newHand(t, server.URL+"/sheet?"+fourKinds())
	h.wait("document.readyState === 'complete' && !!document.getElementById('curve')")
	drawn := "[...document.querySelectorAll('.curve svg text')].map(x => x.textContent).join('|')"
	link := "document.activeElement.textContent.startsWith('Draw ')"
	h.tabTo(link)
	name := h.ask("document.activeElement.textContent.slice(5, -5)")
	if strings.Contains(h.ask(drawn), name) {
		t.Fatalf("%s is drawn already", name)
	}
	h.enter()
	h.wait(fmt.Sprintf("location.hash === '#curve' && (%s).includes(%q)", drawn, name+": "))
	if planned.Load() != 1 {
		t.Errorf("planned %d times", planned.Load())
	}
}
