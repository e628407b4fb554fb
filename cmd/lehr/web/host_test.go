package web

import (
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"lehr/anneal/kiln"
)

func TestIsOwnHost(t *testing.T) {
	studio := &net.TCPAddr{IP: net.IPv4(192, 0, 2, 7), Port: 8080}
	for _, c := range []struct {
		host, named string
		local       net.Addr
		want        bool
	}{
		{"localhost:8080", "127.0.0.1", studio, true},
		{"LOCALHOST", "127.0.0.1", studio, true},
		{"localhost.", "127.0.0.1", studio, true},
		{"127.0.0.1:9000", "127.0.0.1", studio, true},
		{"[::1]:8080", "", studio, true},
		{"192.0.2.7:8080", "0.0.0.0", studio, true},
		{"192.0.2.7", "", studio, true},
		{"192.0.2.8:8080", "0.0.0.0", studio, false},
		{"0.0.0.0:8080", "0.0.0.0", studio, false},
		{"studio.example:8080", "studio.example", studio, true},
		{"other.example:8080", "studio.example", studio, false},
		{"other.example", "127.0.0.1", studio, false},
		{"localhost.other.example", "", studio, false},
		{"127.0.0.1.other.example", "", studio, false},
		{"", "", studio, false},
		{":8080", "", studio, false},
		{"[]", "", nil, false},
	} {
		if got := isOwnHost(c.host, c.named, c.local); got != c.want {
			t.Errorf("host %q, listening at %q: %v", c.host, c.named, got)
		}
	}
}

// TestOwnHost asks a server by its address and by a stranger's name.
func TestOwnHost(t *testing.T) {
	server := httptest.NewServer(Handler(kiln.DefaultStudio(), "127.0.0.1:8080", "devel", nil, nil))
	defer server.Close()
	for host, want := range map[string]int{"": http.StatusOK, "localhost": http.StatusOK, "pieces.example": http.StatusMisdirectedRequest} {
		r, err := http.NewRequest(http.MethodGet, server.URL, strings.NewReader(""))
		if err != nil {
			t.Fatal(err)
		}
		r.Host = host
		answer, err := server.Client().Do(r)
		if err != nil {
			t.Fatal(err)
		}
		answer.Body.Close()
		if answer.StatusCode != want {
			t.Errorf("host %q: %s, want %d", host, answer.Status, want)
		}
	}
}

// TestFromElsewhere asks for the form and the sheet as browsers ask for them: from
// the form itself, from an address that was typed, and from a page of another site.
// The values of Sec-Fetch-Site are those of the W3C's Fetch Metadata Request Headers.
func TestFromElsewhere(t *testing.T) {
	h := Handler(kiln.DefaultStudio(), "127.0.0.1:8080", "devel", nil, nil)
	for _, c := range []struct {
		site, origin string
		foreign      bool
	}{
		{"", "", false},
		{"same-origin", "", false},
		{"same-origin", "null", false},
		{"none", "", false},
		{"cross-site", "", true},
		{"same-site", "", true},
		{"something-new", "", true},
		{"cross-site", "http://localhost:8080", true},
		{"", "http://localhost:8080", false},
		{"", "http://LOCALHOST:8080", false},
		{"", "http://localhost:9000", true},
		{"", "https://pieces.example", true},
		{"", "null", true},
		{"", "http://[", true},
	} {
		for _, ask := range []struct {
			method, path string
			guarded      bool
			open         int
		}{
			{"GET", "/", false, http.StatusOK},
			{"POST", "/", true, http.StatusOK},
			{"GET", "/sheet", true, http.StatusUnprocessableEntity},
			{"HEAD", "/sheet", true, http.StatusUnprocessableEntity},
			{"POST", "/sheet", true, http.StatusUnprocessableEntity},
			{"GET", "/wrong", false, http.StatusOK},
		} {
			r := httptest.NewRequest(ask.method, "http://localhost:8080"+ask.path, strings.NewReader(""))
			if c.site != "" {
				r.Header.Set("Sec-Fetch-Site", c.site)
			}
			if c.origin != "" {
				r.Header.Set("Origin", c.origin)
			}
			w, want := httptest.NewRecorder(), ask.open
			if c.foreign && ask.guarded {
				want = http.StatusForbidden
			}
			if h.ServeHTTP(w, r); w.Code != want {
				t.Errorf("%s %s from %q %q: %d, want %d", ask.method, ask.path, c.site, c.origin, w.Code, want)
			}
		}
	}
}
