package main

import (
	"bytes"
	"context"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"
	"time"

	"rsc.io/qr"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/nights"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/web"
)

// TestServe starts and ends the server as the command does.
func TestServe(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	var out, words bytes.Buffer
	a := &app{desk.New(nil, &out, &words, term.Terminal{Width: 80, UTF8: true})}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- a.serve(ctx, l, web.Handler(kiln.DefaultStudio(), defaultListen, "devel", nil, nil)) }()
	resp, err := http.Get("http://" + l.Addr().String() + "/")
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	cancel()
	select {
	case err := <-ended:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("does not end")
	}
	if want := "lehr serves http://" + l.Addr().String() + "/ until Ctrl-C\n"; out.String() != want || words.Len() > 0 {
		t.Errorf("printed %q, %q", out.String(), words.String())
	}
	if _, err := net.DialTimeout("tcp", l.Addr().String(), time.Second); err == nil {
		t.Error("still answers")
	}
}

// anyAddress is a listener that says it listens everywhere; it listens nowhere.
type anyAddress struct{ net.Listener }

func (anyAddress) Addr() net.Addr            { return &net.TCPAddr{IP: net.IPv4zero, Port: 8080} }
func (anyAddress) Accept() (net.Conn, error) { return nil, net.ErrClosed }
func (anyAddress) Close() error              { return nil }

// TestServe_warns of an address that others reach.
func TestServe_warns(t *testing.T) {
	var out, words bytes.Buffer
	a := &app{desk.New(nil, &out, &words, term.Terminal{Width: 80, UTF8: true})}
	if err := a.serve(context.Background(), anyAddress{}, nil); err == nil {
		t.Error("a listener that fails is no error")
	}
	if !strings.Contains(words.String(), "lehr: warning: other machines") {
		t.Errorf("no warning: %q", words.String())
	}
	if got := strings.Join(strings.Fields(out.String()), " "); !strings.Contains(got, "lehr serves http://0.0.0.0:8080/") || !strings.Contains(got, "From a phone in the same network: http") && !strings.Contains(got, "No other machine") {
		t.Errorf("does not say who reaches it: %s", got)
	}
}

// TestReachable: a phone is given what it can reach, the private network first.
func TestReachable(t *testing.T) {
	var own []net.Addr
	for _, s := range []string{"127.0.0.1/8", "203.0.113.9/24", "192.168.1.7/24", "169.254.3.4/16", "::1/128", "fe80::1/64", "2001:db8::5/64"} {
		ip, network, err := net.ParseCIDR(s)
		if err != nil {
			t.Fatal(err)
		}
		own = append(own, &net.IPNet{IP: ip, Mask: network.Mask})
	}
	for listen, want := range map[string]string{
		"0.0.0.0":     "http://192.168.1.7:8080/ http://203.0.113.9:8080/ http://[2001:db8::5]:8080/",
		"192.168.1.7": "http://192.168.1.7:8080/",
		"127.0.0.1":   "",
		"::1":         "",
	} {
		if got := strings.Join(reachable(&net.TCPAddr{IP: net.ParseIP(listen), Port: 8080}, own), " "); got != want {
			t.Errorf("%s: %q, want %q", listen, got, want)
		}
	}
}

// TestQRCode reads the drawn code back, square by square, and wants the finders
// of the standard (ISO/IEC 18004) in three corners within a margin of four, which it asks for.
func TestQRCode(t *testing.T) {
	code, err := qr.Encode("http://192.168.1.7:8080/", qr.M)
	if err != nil {
		t.Fatal(err)
	}
	a := &app{desk.New(nil, nil, nil, term.Terminal{TTY: true, Width: 80, UTF8: true})}
	lines := strings.Split(strings.TrimSuffix(a.qrCode(code), "\n"), "\n")
	dark := func(x, y int) bool {
		row := []rune(strings.TrimPrefix(lines[(y+4)/2], "  "))
		switch row[x+4] {
		case '█':
			return false
		case ' ':
			return true
		case '▀':
			return y%2 != 0
		}
		return y%2 == 0
	}
	for y := -4; y < code.Size+3; y++ {
		for x := -4; x < code.Size+4; x++ {
			if dark(x, y) != code.Black(x, y) {
				t.Fatalf("square %d, %d is drawn wrong", x, y)
			}
		}
	}
	for _, corner := range [][2]int{{0, 0}, {code.Size - 7, 0}, {0, code.Size - 7}} {
		for y := range 7 {
			for x := range 7 {
				ring := max(max(x-3, 3-x), max(y-3, 3-y))
				if dark(corner[0]+x, corner[1]+y) != (ring != 2) {
					t.Fatalf("no finder at %v", corner)
				}
			}
		}
	}
	if len(lines[0]) == 0 || len([]rune(lines[0])) > 60 {
		t.Errorf("%d columns wide", len([]rune(lines[0])))
	}
}

// TestServe_power: two readings on the form give the page of lehr sheet --now --was:
// what comes first, its program, curve and hours.
func TestServe_power(t *testing.T) {
	var out, words bytes.Buffer
	a := &app{desk.New(nil, &out, &words, term.Terminal{Width: 80, UTF8: true})}
	args := []string{"sheet", "--glass", "borosilicate-33", "--piece", "6 x sphere 2.5in", "--start", "22:15", "--was", "02:10 500 °C", "--now", "04:30 310 °C"}
	if code := a.run(context.Background(), args); code != exitDone {
		t.Fatalf("status %d: %s", code, words.String())
	}
	w := httptest.NewRecorder()
	q := url.Values{"glass": {"borosilicate-33"}, "pieces": {"6 x sphere 2.5in"}, "start": {"22:15"}, "was": {"02:10 500 °C"}, "reads": {"04:30 310 °C"}}
	web.Handler(kiln.DefaultStudio(), defaultListen, "devel", nil, nights.OnPage).ServeHTTP(w, httptest.NewRequest("GET", "http://localhost/sheet?"+q.Encode(), nil))
	for _, id := range []string{"past", "curve", "hours"} {
		part := func(page string) string {
			_, after, ok := strings.Cut(page, `<section aria-labelledby="`+id+`"`)
			text, _, whole := strings.Cut(after, "</section>")
			if !ok || !whole {
				t.Fatalf("no part %s: %.300s", id, page)
			}
			return text
		}
		if got, want := part(w.Body.String()), part(out.String()); got != want {
			t.Errorf("%s: the form says\n%s\nthe command line\n%s", id, got, want)
		}
	}
	if !strings.Contains(w.Body.String(), "After the power failure: heat back to the soak") || !strings.Contains(w.Body.String(), "Program, from 310 °C") {
		t.Errorf("no way on: %.600s", w.Body.String())
	}
	// What the answer finds wrong with a reading stands at its field, without a flag.
	q.Set("reads", "04:30 510 °C")
	w = httptest.NewRecorder()
	web.Handler(kiln.DefaultStudio(), defaultListen, "devel", nil, nights.OnPage).ServeHTTP(w, httptest.NewRequest("GET", "http://localhost/sheet?"+q.Encode(), nil))
	if page := w.Body.String(); w.Code != http.StatusUnprocessableEntity || !strings.Contains(page, `id="reads-error"`) || !strings.Contains(page, "hotter than it was when the power failed") || strings.Contains(page, "--now") {
		t.Errorf("status %d: %.2000s", w.Code, page)
	}
}

// TestServe_powerOpened: where a piece does not bear being opened at the reading of the
// form, the page says at the program, in its lines and before them until when not.
func TestServe_powerOpened(t *testing.T) {
	w := httptest.NewRecorder()
	q := url.Values{"glass": {"borosilicate-33"}, "pieces": {"sphere 4in"}, "opening": {"195 °C"}, "was": {"558 °C"}, "reads": {"545 °C"}}
	web.Handler(kiln.DefaultStudio(), defaultListen, "devel", nil, nights.OnPage).ServeHTTP(w, httptest.NewRequest("GET", "http://localhost/sheet?"+q.Encode(), nil))
	page := w.Body.String()
	for _, want := range []string{"; keep it closed until it reads 80", "The kiln stays closed until it reads 80", "the first does while it stays closed: keep it closed until it reads 80"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if strings.Contains(page, "until it reads 195") || strings.Contains(page, "open when it reads") {
		t.Error("the page says to open the kiln at 195 °C")
	}
}
