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
