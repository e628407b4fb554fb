package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"lehr/anneal/kiln"
	"lehr/cmd/lehr/picture"
	"lehr/cmd/lehr/report"
	"lehr/cmd/lehr/words"
	"lehr/glass/unit"
)

// accessPages are the pages as they are served and written, with everything that
// can be on them.
func accessPages(t *testing.T) map[string][]byte {
	t.Helper()
	s := newSite(kiln.DefaultStudio())
	get := func(path string) []byte { return ask(t, s, "GET", path, nil).Body.Bytes() }
	all := eveningForm("pieces", "sphere 2.5in; in 2 h before\n14 x sphere 1.25in\n6 x rod 10mm x 200mm", "over", ownProgram, "ready-by", "8:00", "facts", "oxygen = cylinder")
	wrong := eveningForm("pieces", "sphre 2in\nsphere 2.5", "over", "from = 560", "door-every", "1 min", "start", "25:00", "segments", "x")
	rep := sampleReport(t, unit.Metric)
	file, err := Sheet(rep, Paper{Planned: time.Now(), Version: "v1", Past: &Past{Heading: "After the power failure", Lines: func(words.Fields) []string { return []string{"it failed"} }, Curve: func() (*picture.Curve, error) { return report.NewCurve(rep, report.Drawn{}) }}})
	if err != nil {
		t.Fatal(err)
	}
	return map[string][]byte{"form": get("/"), "sheet": get("/sheet?" + all.Encode() + "&tick=keyed1"), "faults": get("/sheet?" + wrong.Encode()),
		"split": get("/sheet?" + with("pieces", "sphere 2in; glass soda-104\nsphere 1.5in").Encode()), "danger": get("/sheet?now=gas_smell"),
		"wrong": get("/wrong"), "safety": get("/safety?" + all.Encode()), "missing": get("/none"), "past": file}
}

// measure is what the browser is asked of a page: which words have less contrast to
// what lies behind them than WCAG 2.2 asks for (criterion 1.4.3).
const measure = `(() => {
const rgb = s => (s.match(/[\d.]+/g) || []).map(Number);
const linear = c => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
const light = c => 0.2126 * linear(c[0]) + 0.7152 * linear(c[1]) + 0.0722 * linear(c[2]);
const ground = e => { for (; e; e = e.parentElement) { const c = rgb(getComputedStyle(e).backgroundColor); if (c.length === 3 || c[3] > 0) return c } return matchMedia("(prefers-color-scheme: dark)").matches ? [18, 18, 18] : [255, 255, 255] };
const out = [];
let seen = 0;
for (const d of document.querySelectorAll("details")) d.open = true;
const check = (e, color, what) => {
	const r = e.getBoundingClientRect();
	if (!r.width || !r.height) return;
	seen++;
	const a = light(rgb(color)), b = light(ground(e)), c = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
	const size = parseFloat(getComputedStyle(e).fontSize);
	if (c < 4.5) out.push(what.slice(0, 40) + " " + c.toFixed(2) + " at " + size + " px");
};
for (const e of document.body.querySelectorAll("*")) {
	if (e.tagName === "STYLE" || e.closest("svg") && e.tagName !== "text") continue;
	if ([...e.childNodes].some(n => n.nodeType === 3 && n.data.trim())) check(e, e.tagName === "text" ? getComputedStyle(e).fill : getComputedStyle(e).color, e.textContent);
	if (e.placeholder) check(e, getComputedStyle(e, "::placeholder").color, "placeholder " + e.placeholder);
}
return seen + " words; " + out.join("; ");
})()`

// TestBrowser_accessible opens every page as a browser has it, light and dark: all
// words have contrast, everything that can be used has a name, and no heading
// skips a level.
func TestBrowser_accessible(t *testing.T) {
	needLong(t)
	pages := accessPages(t)
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Write(pages[r.URL.Path[1:]])
	}))
	defer server.Close()
	h := newHand(t, server.URL+"/form")
	for name, page := range pages {
		wantAccessible(t, page)
		for _, scheme := range []string{"light", "dark"} {
			h.call("Emulation.setEmulatedMedia", map[string]any{"features": []any{map[string]any{"name": "prefers-color-scheme", "value": scheme}}})
			h.call("Page.navigate", map[string]any{"url": server.URL + "/" + name})
			h.wait(fmt.Sprintf("document.readyState === 'complete' && location.pathname === '/%s'", name))
			var words int
			got := h.ask(measure)
			if fmt.Sscanf(got, "%d words", &words); words < 3 || !strings.HasSuffix(got, " words; ") {
				t.Errorf("%s, %s: %s", name, scheme, got)
			}
		}
		h.call("Accessibility.enable", map[string]any{})
		nodes, _ := h.call("Accessibility.getFullAXTree", map[string]any{})["nodes"].([]any)
		used := 0
		for _, n := range nodes {
			n := n.(map[string]any)
			value := func(key string) string {
				v, _ := n[key].(map[string]any)
				s, _ := v["value"].(string)
				return s
			}
			switch role := value("role"); role {
			case "link", "button", "textbox", "checkbox", "combobox", "DisclosureTriangle", "image", "navigation":
				used++
				if strings.TrimSpace(value("name")) == "" {
					t.Errorf("%s: a %s without a name", name, role)
				}
			}
		}
		if used == 0 && name != "danger" {
			t.Errorf("%s: nothing to use among %d nodes", name, len(nodes))
		}
	}
}

// TestWantAccessible: the checks that every page goes through see what is wrong.
func TestWantAccessible(t *testing.T) {
	for name, bad := range map[string]string{
		"levels":    "<h1>a</h1><h3>b</h3>",
		"link":      `<h1>a</h1><a href="/x"></a>`,
		"button":    `<h1>a</h1><button></button>`,
		"no levels": "<h2>a</h2>",
	} {
		if len(unnamed(parseHTML(t, []byte(bad)))) == 0 {
			t.Errorf("%s: nothing is found", name)
		}
	}
	if got := unnamed(parseHTML(t, []byte(`<h1>a</h1><h2>b</h2><h3>c</h3><h2>d</h2><a href="/x" aria-label="x">←</a>`))); len(got) > 0 {
		t.Error(got)
	}
}
