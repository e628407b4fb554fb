package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strconv"
	"testing"
	"time"
)

// TestBrowser_roomOnPaper measures how far down the first page reaches as it is
// printed: six kinds leave room for three lines and more, whatever the font.
func TestBrowser_roomOnPaper(t *testing.T) {
	needLong(t)
	page, err := Sheet(sixKinds(t), Paper{Planned: time.Now(), Version: "v0.0.0-20260101000000-abcdefabcdef"})
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		n, _ := strconv.Atoi(r.URL.Path[1:])
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Write([]byte(inFont(t, page, fallbacks[n%len(fallbacks)])))
	}))
	defer server.Close()
	h := newHand(t, server.URL+"/0")
	h.call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
	for i, font := range fallbacks {
		for paper, mm := range map[string][2]float64{"letter": {215.9, 279.4}, "A4": {210, 297}} {
			const px, side, end, line = 96 / 25.4, 10, 7, 3.4 // mm, as the style sheet has the margins; a line of 8 pt
			h.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": int((mm[0] - 2*side) * px), "height": 1000, "deviceScaleFactor": 1, "mobile": false})
			h.call("Page.navigate", map[string]any{"url": fmt.Sprintf("%s/%d", server.URL, i)})
			h.wait(fmt.Sprintf("document.readyState === 'complete' && location.pathname === '/%d'", i))
			bottom, err := strconv.ParseFloat(h.ask("document.querySelector('.foot').getBoundingClientRect().bottom + scrollY"), 64)
			if err != nil {
				t.Fatal(err)
			}
			room := (mm[1] - 2*end) - bottom/px
			if room < 3*line {
				t.Errorf("%s in %s: %.1f mm are left below the foot, want %.1f", paper, font, room, 3*line)
			}
		}
	}
}
