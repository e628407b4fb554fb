package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/desk"
	"lehr/cmd/lehr/internal/roomtest"
	"lehr/cmd/lehr/term"
	"lehr/cmd/lehr/web"
)

// served is lehr serve under way, with its address and what ends it.
type served struct {
	addr string
	stop context.CancelFunc
	end  chan error
}

func startServer(t *testing.T) served {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	var out, words bytes.Buffer
	a := &app{desk.New(nil, &out, &words, term.Terminal{Width: 80, UTF8: true})}
	ctx, cancel := context.WithCancel(context.Background())
	s := served{l.Addr().String(), cancel, make(chan error, 1)}
	go func() { s.end <- a.serve(ctx, l, web.Handler(kiln.DefaultStudio(), defaultListen, "devel", nil, nil)) }()
	t.Cleanup(cancel)
	return s
}

// sheetOf is the address of the sheet of some pieces.
func (s served) sheetOf(pieces string) string {
	form := url.Values{"glass": {"borosilicate-33"}, "pieces": {pieces}, "into": {"hot kiln"}, "units": {"c"}}
	return "http://" + s.addr + "/sheet?" + form.Encode()
}

// longWork is a load that takes the machine many seconds.
func longWork() string {
	var b strings.Builder
	for i := range 20 {
		fmt.Fprintf(&b, "disc %d mm x %d mm\r\ndome %d mm x %d mm\r\n", 80+7*i, 20+i, 60+5*i, 30+3*i)
	}
	return strings.Join(strings.SplitAfter(b.String(), "\r\n")[:24], "")
}

// inUse is the memory that is in use after a collection.
func inUse() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapInuse + m.StackInuse
}

// fewer is how many clients a test has: many with LEHR_LONG=1, else few.
func fewer(many, few int) int {
	if os.Getenv("LEHR_LONG") == "1" {
		return many
	}
	return few
}

// TestServe_slow: clients that send a request letter by letter, or never finish
// it, cost little memory, keep nobody else waiting, and are cut off.
func TestServe_slow(t *testing.T) {
	clients := fewer(1000, 50)
	const each, bound = 64 << 10, 8 << 20 // bytes for a client (both ends), and beside
	s := startServer(t)
	before := inUse()
	var conns []net.Conn
	defer func() {
		for _, c := range conns {
			c.Close()
		}
	}()
	start := time.Now()
	for i := range clients {
		c, err := net.Dial("tcp", s.addr)
		if err != nil {
			t.Fatalf("client %d: %v", i, err)
		}
		conns = append(conns, c)
		text := "GET / HTTP/1.1\r\nHost: " // half a head
		if i%2 == 1 {                      // half a body
			text = "POST /sheet HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 30000\r\n\r\npieces=sphere"
		}
		if _, err := io.WriteString(c, text); err != nil {
			t.Fatalf("client %d: %v", i, err)
		}
	}
	asked := time.Now()
	resp, err := http.Get("http://" + s.addr + "/")
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	answered := time.Since(asked)
	now := inUse()
	held := now - min(before, now)
	if limit := uint64(clients*each + bound); held > limit {
		t.Errorf("%d slow clients hold %d KiB, at most %d", clients, held>>10, limit>>10)
	}
	if answered > 2*time.Second {
		t.Errorf("a client beside them waits %s", answered)
	}
	if os.Getenv("LEHR_LONG") != "1" {
		t.Logf("%d slow clients: %d KiB, answer in %s", clients, held>>10, answered.Round(time.Millisecond))
		return
	}
	for i, c := range conns { // each is cut off by the server
		_ = c.SetReadDeadline(start.Add(40 * time.Second))
		if _, err := io.Copy(io.Discard, c); err != nil && os.IsTimeout(err) {
			t.Fatalf("client %d still has its connection after %s", i, time.Since(start))
		}
	}
	cut := time.Since(start)
	for range 50 {
		if runtime.NumGoroutine() < 20 {
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	if n := runtime.NumGoroutine(); n >= 20+clients/10 {
		t.Errorf("%d goroutines are left", n)
	}
	t.Logf("%d slow clients: %d KiB, answer beside them in %s, all cut off after %s", clients, held>>10, answered.Round(time.Millisecond), cut.Round(100*time.Millisecond))
}

// TestServe_busy: clients that all ask for a program at once get it, or are told
// in plain words to come back; memory does not grow with their number.
func TestServe_busy(t *testing.T) {
	clients := fewer(200, 12)
	const bound = 192 << 20
	s := startServer(t)
	transport := &http.Transport{}
	defer transport.CloseIdleConnections()
	client := &http.Client{Transport: transport}
	var answers roomtest.Answers
	var most atomic.Uint64
	done := make(chan struct{})
	go func() {
		for {
			select {
			case <-done:
				return
			case <-time.After(50 * time.Millisecond):
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most.Store(max(most.Load(), m.HeapInuse+m.StackInuse))
			}
		}
	}()
	start := time.Now()
	var wait sync.WaitGroup
	for i := range clients {
		wait.Go(func() {
			answers.Get(t, client, s.sheetOf(fmt.Sprintf("sphere %d mm", 10+i%40)))
		})
	}
	wait.Wait()
	close(done)
	took := time.Since(start)
	planned, told, other := answers.Planned.Load(), answers.Refused.Load(), answers.Other.Load()
	if other != 0 || planned == 0 || int(planned+told) != clients {
		t.Errorf("%d planned, %d told to come back, %d else", planned, told, other)
	}
	if most.Load() > bound {
		t.Errorf("%d MiB in use, at most %d", most.Load()>>20, bound>>20)
	}
	t.Logf("%d at once: %d planned, %d told to come back, in %s, %d MiB at most", clients, planned, told, took.Round(10*time.Millisecond), most.Load()>>20)
}

// TestServe_abandoned: what nobody waits for any more is not computed to its
// end: the next client is not kept waiting by it.
func TestServe_abandoned(t *testing.T) {
	s := startServer(t)
	work := longWork()
	ctx, cancel := context.WithCancel(t.Context())
	var wait sync.WaitGroup
	var ended atomic.Int32
	for range 2 * runtime.GOMAXPROCS(0) {
		r, err := http.NewRequestWithContext(ctx, http.MethodGet, s.sheetOf(work), nil)
		if err != nil {
			t.Fatal(err)
		}
		wait.Go(func() {
			resp, err := http.DefaultClient.Do(r)
			if err == nil {
				resp.Body.Close()
				ended.Add(1)
			}
		})
	}
	time.Sleep(300 * time.Millisecond)
	cancel()
	wait.Wait()
	if ended.Load() > 0 {
		t.Skip("the machine is quicker than the work")
	}
	start := time.Now()
	resp, err := http.Get(s.sheetOf("sphere 20 mm"))
	if err != nil {
		t.Fatal(err)
	}
	resp.Body.Close()
	if resp.StatusCode != http.StatusOK {
		t.Errorf("status %d after the others have gone", resp.StatusCode)
	}
	t.Logf("answered %s after the others have gone", time.Since(start).Round(time.Millisecond))
}

// TestServe_endsGracefully: when the server is to end, what is under way is
// answered, what would take too long is stopped, and nobody new is let in.
func TestServe_endsGracefully(t *testing.T) {
	s := startServer(t)
	type answer struct {
		status int
		err    error
	}
	got := make(chan answer, 1)
	go func() {
		resp, err := http.Get(s.sheetOf("6 x sphere 2.5in\r\n14 x sphere 1.25in\r\ndisc 75mm x 25mm"))
		if err != nil {
			got <- answer{0, err}
			return
		}
		defer resp.Body.Close()
		_, err = io.Copy(io.Discard, resp.Body)
		got <- answer{resp.StatusCode, err}
	}()
	time.Sleep(30 * time.Millisecond) // it is under way
	start := time.Now()
	s.stop()
	select {
	case err := <-s.end:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(20 * time.Second):
		t.Fatal("does not end")
	}
	took := time.Since(start)
	if a := <-got; took < 4*time.Second && (a.err != nil || a.status != http.StatusOK) {
		t.Errorf("what was under way got status %d, %v", a.status, a.err)
	}
	if took > 8*time.Second {
		t.Errorf("took %s to end", took)
	}
	if c, err := net.DialTimeout("tcp", s.addr, time.Second); err == nil {
		c.Close()
		t.Error("still lets somebody in")
	}
	t.Logf("ended %s after it was told to", took.Round(time.Millisecond))
	if os.Getenv("LEHR_LONG") != "1" {
		return
	}
	// With work of many seconds it ends all the same.
	s = startServer(t)
	go func() {
		resp, err := http.Get(s.sheetOf(longWork()))
		if err == nil {
			resp.Body.Close()
		}
	}()
	time.Sleep(200 * time.Millisecond)
	start = time.Now()
	s.stop()
	if err := <-s.end; err != nil || time.Since(start) > 8*time.Second {
		t.Errorf("with long work under way: %v after %s", err, time.Since(start))
	}
	t.Logf("with long work under way it ended after %s", time.Since(start).Round(time.Millisecond))
}
