package web

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/report"
	"lehr/glass/unit"
)

// hand drives a browser by its debugging pipe: real keys, one after the other.
type hand struct {
	t       *testing.T
	in      *os.File
	out     *bufio.Reader
	id      int
	session string
}

func newHand(t *testing.T, url string) *hand {
	t.Helper()
	browser(t)
	path, err := exec.LookPath("chromium")
	if err != nil {
		path = "chromium-browser"
	}
	toBrowser, in, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	out, fromBrowser, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	c := chromium(ctx, t, path, "--remote-debugging-pipe", "about:blank")
	c.ExtraFiles = []*os.File{toBrowser, fromBrowser}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	toBrowser.Close()
	fromBrowser.Close()
	t.Cleanup(func() {
		cancel()
		in.Close()
		c.Wait() // it was ended
		out.Close()
	})
	h := &hand{t: t, in: in, out: bufio.NewReader(out)}
	target := h.call("Target.createTarget", map[string]any{"url": url})
	h.session = h.call("Target.attachToTarget", map[string]any{"targetId": target["targetId"], "flatten": true})["sessionId"].(string)
	return h
}

// call asks the browser and waits for the answer.
func (h *hand) call(method string, params map[string]any) map[string]any {
	h.t.Helper()
	h.id++
	m := map[string]any{"id": h.id, "method": method, "params": params}
	if h.session != "" {
		m["sessionId"] = h.session
	}
	text, err := json.Marshal(m)
	if err != nil {
		h.t.Fatal(err)
	}
	if _, err := h.in.Write(append(text, 0)); err != nil {
		h.t.Fatal(err)
	}
	for {
		line, err := h.out.ReadBytes(0)
		if err != nil {
			h.t.Fatalf("%s: %v", method, err)
		}
		var answer struct {
			ID     int            `json:"id"`
			Result map[string]any `json:"result"`
			Error  any            `json:"error"`
		}
		if err := json.Unmarshal(line[:len(line)-1], &answer); err != nil {
			h.t.Fatal(err)
		}
		if answer.ID != h.id {
			continue // an event
		}
		if answer.Error != nil {
			h.t.Fatalf("%s: %v", method, answer.Error)
		}
		return answer.Result
	}
}

// press presses and lets go a key.
func (h *hand) press(key, text string, code int) {
	h.t.Helper()
	down := map[string]any{"type": "keyDown", "key": key, "code": key, "windowsVirtualKeyCode": code}
	if text != "" {
		down["text"] = text
	}
	h.call("Input.dispatchKeyEvent", down)
	h.call("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": key, "code": key, "windowsVirtualKeyCode": code})
}

func (h *hand) tab()   { h.t.Helper(); h.press("Tab", "", 9) }
func (h *hand) enter() { h.t.Helper(); h.press("Enter", "\r", 13) }

// write types a text into what has the focus.
func (h *hand) write(text string) {
	h.t.Helper()
	h.call("Input.insertText", map[string]any{"text": text})
}

// ask evaluates an expression in the page.
func (h *hand) ask(expression string) string {
	h.t.Helper()
	r := h.call("Runtime.evaluate", map[string]any{"expression": "String(" + expression + ")"})
	value, _ := r["result"].(map[string]any)["value"].(string)
	return value
}

// wait waits for an expression to become true.
func (h *hand) wait(expression string) {
	h.t.Helper()
	for range 200 {
		if h.ask(expression) == "true" {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	h.t.Fatalf("%s never comes; at %s", expression, h.ask("location.href"))
}

// tabTo presses Tab until what has the focus is wanted, and wants each stop on
// the way to be seen.
func (h *hand) tabTo(condition string) {
	h.t.Helper()
	for range 60 {
		h.tab()
		if h.ask("(() => { const s = getComputedStyle(document.activeElement); return s.outlineStyle !== 'none' || document.activeElement === document.body })()") != "true" {
			h.t.Errorf("the focus is not seen at %s", h.ask("document.activeElement.outerHTML.slice(0, 80)"))
		}
		if h.ask(condition) == "true" {
			return
		}
	}
	h.t.Fatalf("Tab never reaches %s", condition)
}

// TestBrowser_keyboard plans a load, ticks a segment and keys in one segment at a
// time with the keyboard alone.
func TestBrowser_keyboard(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	server := httptest.NewServer(newSite(kiln.DefaultStudio()))
	defer server.Close()
	h := newHand(t, server.URL+"/")
	h.wait("document.readyState === 'complete' && location.pathname === '/' && location.host !== ''")
	at := func(id string) string { return fmt.Sprintf("document.activeElement.id === %q", id) }
	h.tabTo(at("glass"))
	for _, r := range "borosilicate-33" {
		h.press(string(r), string(r), int(strings.ToUpper(string(r))[0]))
	}
	h.tabTo(at("pieces"))
	h.write("6 x sphere 2.5in\n14 x sphere 1.25in")
	h.tabTo(at("start"))
	h.write("22:15")
	h.enter()
	h.wait("location.pathname === '/sheet' && !!document.getElementById('verdict')")
	word, _ := report.VerdictText(sampleReport(t, unit.Metric))
	if got := h.ask("document.getElementById('verdict').textContent"); got != word {
		t.Fatalf("verdict %q, want %q", got, word)
	}
	h.tabTo(at("keyed1"))
	h.press(" ", " ", 32)
	if h.ask("document.getElementById('keyed1').checked") != "true" {
		t.Error("the space bar does not tick")
	}
	h.tabTo("document.activeElement.getAttribute('href') === '#s1'")
	for step := 1; step < 5; step++ {
		h.enter()
		h.wait(fmt.Sprintf("location.hash === '#s%d' && getComputedStyle(document.getElementById('s%d')).display !== 'none'", step, step))
		h.tabTo(fmt.Sprintf("document.activeElement.getAttribute('href') === '#s%d'", step+1))
	}
	h.enter()
	h.wait("location.hash === '#s5'")
}
