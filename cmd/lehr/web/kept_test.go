package web

import (
	"bytes"
	"context"
	"fmt"
	"net/http/httptest"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/anneal/piece"
	"lehr/anneal/plan"
	"lehr/anneal/verify"
)

// counted is a site that counts how often it plans.
func counted() (*site, *atomic.Int32) {
	s, n := newSite(kiln.DefaultStudio()), &atomic.Int32{}
	planner := s.plan
	s.plan = func(ctx context.Context, l *piece.Load, st kiln.Studio, o plan.Options) (*verify.Report, error) {
		n.Add(1)
		return planner(ctx, l, st, o)
	}
	return s, n
}

// TestSite_kept: what was planned is shown again, ticked and as a file, without
// being planned again, even when nobody can plan; what was filled in otherwise is
// planned.
func TestSite_kept(t *testing.T) {
	s, n := counted()
	form := goodForm().Encode()
	first := ask(t, s, "GET", "/sheet?"+form, nil)
	if n.Load() != 1 || first.Code != 200 {
		t.Fatalf("status %d, planned %d times", first.Code, n.Load())
	}
	for range cap(s.turns) {
		s.turns <- struct{}{}
	}
	s.wait = time.Millisecond
	again := ask(t, s, "POST", "/sheet", strings.NewReader(form))
	if !bytes.Equal(again.Body.Bytes(), first.Body.Bytes()) {
		t.Error("loaded again, it is another page")
	}
	page := wantAccessible(t, ask(t, s, "GET", "/sheet?"+form+"&tick=keyed2&tick=line-leave-U1&tick=keyed2&tick=nothing", nil).Body.Bytes())
	for _, box := range page.all("input") {
		is := false
		for _, a := range box.Attr {
			is = is || a.Key == "checked"
		}
		if id := box.attr("id"); is != (id == "keyed2" || id == "line-leave-U1") {
			t.Errorf("%s ticked: %v", id, is)
		}
	}
	if n.Load() != 1 {
		t.Errorf("planned %d times", n.Load())
	}
	// What a link shows has the ticks, too.
	for _, a := range page.all("a") {
		if href := a.attr("href"); strings.HasPrefix(href, "/sheet?") && !strings.HasPrefix(href, "/sheet?tick=keyed2&tick=line-leave-U1&") {
			t.Errorf("a link without the ticks: %s", href)
		}
	}
	for range cap(s.turns) {
		<-s.turns
	}
	file := ask(t, s, "GET", "/sheet?"+form+"&file=1&tick=keyed1", nil)
	if box, _ := parseHTML(t, file.Body.Bytes()).byID("keyed1"); file.Code != 200 || len(box.Attr) < 3 || box.Attr[2].Key != "checked" || n.Load() != 1 {
		t.Errorf("as a file: status %d, planned %d times, box %+v", file.Code, n.Load(), box.Attr)
	}
	if ask(t, s, "GET", "/sheet?"+with("start", "22:16").Encode(), nil); n.Load() != 2 {
		t.Errorf("another start: planned %d times", n.Load())
	}
}

// TestKept_bounds: the oldest answers go, and those of yesterday.
func TestKept_bounds(t *testing.T) {
	var k kept
	for i := range 3 * mostKept {
		a := &solved{key: fmt.Sprint(i), begun: time.Now()}
		for j := range 3 * mostPages {
			k.keep(a, fmt.Sprint(j), []byte("page"))
		}
		if len(k.list) > mostKept || len(a.pages) > mostPages {
			t.Fatalf("%d answers, %d pages", len(k.list), len(a.pages))
		}
	}
	if a, _ := k.find(fmt.Sprint(2*mostKept-1), ""); a != nil {
		t.Error("an old answer is there still")
	}
	last, page := k.find(fmt.Sprint(3*mostKept-1), fmt.Sprint(3*mostPages-1))
	if string(page) != "page" {
		t.Fatal("the last page is gone")
	}
	last.begun = time.Now().Add(-keptFor)
	if a, _ := k.find(last.key, ""); a != nil {
		t.Error("an answer is kept longer than said")
	}
	k.keep(&solved{key: "new", begun: time.Now()}, "", nil)
	for _, a := range k.list {
		if a == last {
			t.Error("what is too old is held still")
		}
	}
}

// TestTicked_hostile: only the name of a box ticks it, and nothing comes into a page.
func TestTicked_hostile(t *testing.T) {
	page := []byte(`<input type="checkbox" id="a1" form="ticks" name="tick" value="a1"/><a href="/sheet?x=1">x</a>`)
	for _, name := range []string{`a1" form="ticks`, `a1" form="ticks" name="tick" value="a1`, "", `"><script>`, "a", "&amp;"} {
		if got := ticked(page, []string{name}); !bytes.Equal(got, page) {
			t.Errorf("%q: %s", name, got)
		}
	}
}

// TestSite_together: one answer is shown in several ways at the same time.
func TestSite_together(t *testing.T) {
	s, planned := counted()
	s.wait = time.Minute
	ask(t, s, "GET", "/sheet?"+fourKinds(), nil)
	var all sync.WaitGroup
	pages := make([]*httptest.ResponseRecorder, 12)
	for i := range pages {
		all.Go(func() {
			pages[i] = ask(t, s, "GET", fmt.Sprintf("/sheet?%s&draw=%d&draw=%d&tick=keyed1", fourKinds(), 1+i%4, 1+(i/4+i+1)%4), nil)
		})
	}
	all.Wait()
	for _, w := range pages {
		if w.Code != 200 || planned.Load() != 1 {
			t.Errorf("status %d, planned %d times", w.Code, planned.Load())
		}
	}
}
