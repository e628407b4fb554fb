package main

import (
	"bytes"
	"context"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
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
	a := &app{out: &output{w: &out}, err: &words, term: term.Terminal{Width: 80, UTF8: true}}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- a.serve(ctx, l, web.Handler(kiln.DefaultStudio(), defaultListen, "devel", nil)) }()
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
	a := &app{out: &output{w: &out}, err: &words, term: term.Terminal{Width: 80, UTF8: true}}
	if err := a.serve(context.Background(), anyAddress{}, nil); err == nil {
		t.Error("a listener that fails is no error")
	}
	if !strings.Contains(words.String(), "lehr: warning: other machines") {
		t.Errorf("no warning: %q", words.String())
	}
}
