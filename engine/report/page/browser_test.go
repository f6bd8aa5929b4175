package page_test

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	cdproto "github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/scantling/engine/finding"
	"example.com/scantling/engine/report/draw"
	"example.com/scantling/engine/report/internal/sample"
	"example.com/scantling/engine/report/page"
)

// tab is a page in a browser, with what the browser said and asked for while it was open.
type tab struct {
	*testing.T
	ctx context.Context

	mu      sync.Mutex
	trouble []string
}

// TestInBrowser looks at the page as people do. It needs Chromium, and axe-core for one of its parts.
func TestInBrowser(t *testing.T) {
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("skipped: chromium is not installed (Debian: apt-get install chromium)")
	}
	options := []chromedp.ExecAllocatorOption{chromedp.ExecPath(chromium), chromedp.UserDataDir(t.TempDir()),
		chromedp.Env("TMPDIR=" + t.TempDir()), chromedp.WindowSize(1350, 1000)}
	for _, flag := range []string{"headless", "no-sandbox", "disable-gpu", "disable-quic", "no-first-run", "disable-background-networking",
		"disable-component-update", "disable-sync"} {
		options = append(options, chromedp.Flag(flag, true))
	}
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	defer stop()
	browser, quit := chromedp.NewContext(allocator)
	defer quit()
	defer func() { // its processes write until they have ended of their own accord
		patient, enough := context.WithTimeout(browser, time.Minute)
		defer enough()
		assert.NoError(t, chromedp.Cancel(patient))
	}()
	require.NoError(t, chromedp.Do(browser))

	for _, row := range []struct {
		name string
		look func(*tab)
		page page.Page
	}{
		{"a member that is pressed lights its path", pressed, reading()},
		{"a member that is chosen by keyboard lights its path", keyed, reading()},
		{"one piece of a run has a path of its own", onePiece, reading()},
		{"many load cases are shown one at a time", manyCases, cased()},
		{"filters hide what is not asked for", filtered, reading()},
		{"drawings come closer and move", zoomed, reading()},
		{"the address keeps what is picked", kept, reading()},
		{"no table is cut off on A4, and drawings are to scale", printed, reading()},
		{"a telephone shows it without scrolling sideways", narrow, reading()},
		{"it is accessible", accessible, reading()},
		{"hostile text is inert", inert, hostilePage()},
		{"ten thousand pieces respond", responds, big(10000)},
	} {
		t.Run(row.name, func(t *testing.T) {
			open(t, browser, row.page, row.look)
		})
	}
}

// open shows a page and looks at it; it fails if the page asked for anything or complained.
func open(t *testing.T, browser context.Context, p page.Page, look func(*tab)) {
	t.Helper()
	ctx, closeTab := chromedp.NewContext(browser)
	defer closeTab()
	require.NoError(t, chromedp.Do(ctx))
	ctx, cancel := context.WithTimeout(ctx, 2*time.Minute)
	defer cancel()
	b := &tab{T: t, ctx: ctx}
	file := filepath.Join(t.TempDir(), "report.html")
	require.NoError(t, os.WriteFile(file, []byte(html(t, p)), 0o600))
	address := "file://" + file
	require.NoError(t, chromedp.Listen(ctx, func(event any) {
		b.mu.Lock()
		defer b.mu.Unlock()
		switch e := event.(type) {
		case *network.EventRequestWillBeSent:
			if !strings.HasPrefix(e.Request.URL, address) {
				b.trouble = append(b.trouble, "request: "+e.Request.URL)
			}
		case *runtime.EventExceptionThrown:
			b.trouble = append(b.trouble, "exception: "+fmt.Sprintf("%+v", *e.ExceptionDetails))
		case *runtime.EventConsoleAPICalled:
			b.trouble = append(b.trouble, fmt.Sprintf("console: %s %v", e.Type, e.Args))
		case *log.EventEntryAdded:
			b.trouble = append(b.trouble, "log: "+e.Entry.Text)
		case *cdp.EventJavascriptDialogOpening:
			b.trouble = append(b.trouble, "dialog: "+e.Message)
		}
	}))
	started := time.Now()
	call(b, network.Enable, network.EnableParams{})
	call(b, log.Enable, cdproto.Empty{})
	b.run(chromedp.Navigate(address))
	t.Logf("opened in %v", time.Since(started).Round(time.Millisecond))
	look(b)
	b.mu.Lock()
	defer b.mu.Unlock()
	assert.Empty(t, b.trouble)
}

func (b *tab) run(actions ...chromedp.Action[chromedp.Void]) {
	b.Helper()
	require.NoError(b, chromedp.Do(b.ctx, actions...))
}

// call runs a command of the browser's protocol.
func call[P any](b *tab, command cdproto.Command[P, cdproto.Empty], params P) {
	b.Helper()
	_, err := chromedp.Call(b.ctx, command, params)
	require.NoError(b, err)
}

// do runs a script for what it does.
func (b *tab) do(script string) { b.run(chromedp.Evaluate[chromedp.Void](script)) }

// paper shows the page as on paper.
func (b *tab) paper() {
	call(b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
}

// eval gives the value of a script.
func eval[T any](b *tab, script string) T {
	b.Helper()
	out, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	require.NoError(b, err)
	return out
}

// rows reads a table of hops: "RB1 > PO1 19.30 8.50".
func (b *tab) rows(id string) []string {
	b.Helper()
	return eval[[]string](b, `[...document.querySelectorAll("#`+id+` tbody tr")].map((r) => [...r.querySelectorAll("button")].map((e) => e.textContent).join(" > ") + " " + [...r.querySelectorAll(".figure")].map((e) => e.textContent).join(" "))`)
}

// expected are the rows as the take-down has them, by the walk that draws traces.
func expected(f draw.Frame, hops []int) []string {
	out := []string{}
	for _, flow := range draw.Flows(f, hops) {
		row := flow.From + " > " + flow.To
		for _, load := range flow.Load {
			row += fmt.Sprintf(" %.2f", load/1000)
		}
		out = append(out, row)
	}
	return out
}

// lit are the marks whose pieces an overlay of the axonometric passes over, compared by the corners of their paths.
func (b *tab) lit(class string) []string {
	b.Helper()
	return eval[[]string](b, `(() => {
		const d = document.querySelector("#view-1 .over .`+class+`").getAttribute("d").split("M").slice(1).map((s) => s.replace("z", ""));
		const marks = JSON.parse(document.getElementById("data").textContent).members.map((m) => m[0]);
		return [...document.querySelectorAll("#view-1 .members path")].filter((p) => {
			const own = p.getAttribute("d").split("M").slice(1).map((s) => s.replace("z", ""));
			return own.some((o) => d.includes(o));
		}).map((p) => marks[p.dataset.m]).sort();
	})()`)
}

// press clicks on a member of a drawing, a share of the way along its first piece.
func (b *tab) press(view int, mark string, along float64) {
	b.Helper()
	at := eval[[]float64](b, fmt.Sprintf(`(() => {
		const members = JSON.parse(document.getElementById("data").textContent).members;
		const path = document.querySelector("#view-%d .members path[data-m='" + members.findIndex((m) => m[0] === %q) + "']");
		path.closest("svg").scrollIntoView({block: "center"});
		const first = document.createElementNS("http://www.w3.org/2000/svg", "path");
		first.setAttribute("d", "M" + path.getAttribute("d").split("M")[1]);
		const p = first.getPointAtLength(first.getTotalLength() * %g), m = path.getScreenCTM();
		return [p.x * m.a + m.e, p.y * m.d + m.f];
	})()`, view, mark, along))
	b.run(chromedp.MouseClickXY(at[0], at[1]))
}

func (b *tab) picked() string {
	b.Helper()
	return eval[string](b, `document.getElementById("picked").hidden ? "" : document.getElementById("picked-name").textContent`)
}

func pressed(b *tab) {
	f := reading().Frame
	for view := range 2 {
		for _, row := range []struct {
			mark     string
			along    float64
			down, up []string
		}{
			{"RB1", 0.2, []string{"B1", "PO1", "W1", "W2", "W3", "W4"}, []string{"R1", "R2"}},
			{"B1", 0.11, []string{"W1", "W2"}, []string{"PO1", "R1", "R2", "RB1"}},
		} {
			b.press(view, row.mark, row.along)
			for tries := 0; tries < 3 && b.picked() != row.mark; tries++ {
				b.press(view, row.mark, row.along) // in plan it lies under others
			}
			path := draw.PathOf(f, row.mark)
			assert.Equal(b, row.mark, b.picked())
			assert.Equal(b, expected(f, path.Down), b.rows("down"), row.mark)
			assert.Equal(b, expected(f, path.Up), b.rows("up"), row.mark)
			assert.Equal(b, row.down, b.lit("down"), row.mark)
			assert.Equal(b, row.up, b.lit("up"), row.mark)
			assert.Equal(b, []string{row.mark}, b.lit("picked"))
		}
	}
	b.press(0, "RB1", 0.2)
	assert.Contains(b, eval[string](b, `document.getElementById("own").textContent`), "Put in the section that the engineer gives")
	assert.Contains(b, eval[string](b, `document.getElementById("own").textContent`), "k_mod")
	assert.Contains(b, eval[string](b, `document.getElementById("status").textContent`), "RB1, ridge beam, stop. Goes down to W3, PO1, W4. 2 members on it. 1 finding.")
	b.run(chromedp.Click(chromedp.CSS(`#down button[data-pick]:not([data-pick="6"])`)))
	assert.Equal(b, "W3", b.picked(), "a mark in the list leads on")
	assert.Contains(b, eval[string](b, `document.getElementById("down").textContent`), "It stands on the ground")
}

func keyed(b *tab) {
	f := reading().Frame
	b.run(chromedp.Focus(chromedp.CSS("#sheet")), chromedp.KeyEvent(kb.Tab))
	assert.Equal(b, "list", eval[string](b, "document.activeElement.id"), "the list follows the filters")
	b.run(chromedp.KeyEvent(kb.ArrowDown), chromedp.KeyEvent(kb.ArrowDown))
	assert.Equal(b, "W2", b.picked())
	b.run(chromedp.KeyEvent(kb.End))
	assert.Equal(b, "J2", b.picked())
	b.run(chromedp.KeyEvent(kb.Home))
	assert.Equal(b, "W1", b.picked())
	b.run(chromedp.KeyEvent("p"), chromedp.KeyEvent("o"))
	assert.Equal(b, "PO1", b.picked(), "typing a mark finds it")
	path := draw.PathOf(f, "PO1")
	assert.Equal(b, expected(f, path.Down), b.rows("down"))
	assert.Equal(b, expected(f, path.Up), b.rows("up"))
	assert.Equal(b, []string{"B1", "W1", "W2"}, b.lit("down"))
	assert.Equal(b, []string{"R1", "R2", "RB1"}, b.lit("up"))
	chosen := eval[string](b, `document.getElementById(document.getElementById("list").getAttribute("aria-activedescendant")).textContent`)
	assert.Contains(b, chosen, "PO1")
	assert.Equal(b, 1, eval[int](b, `document.querySelectorAll("[aria-selected=true]").length`))
	b.run(chromedp.KeyEvent(kb.Escape))
	assert.Empty(b, b.picked())
	assert.Empty(b, b.lit("down"))
}

func onePiece(b *tab) {
	b.press(1, "R1", 0.5)
	assert.Equal(b, "R1", b.picked())
	assert.Equal(b, "R1#1", eval[string](b, `document.getElementById("piece").selectedOptions[0].textContent`))
	assert.Equal(b, "R1 > WP1 0.90 0.40", b.rows("down")[0], "of one rafter")
	b.do(`(() => { const s = document.getElementById("piece"); s.value = ""; s.dispatchEvent(new Event("change")); })()`)
	assert.Equal(b, "R1 > WP1 15.30 6.80", b.rows("down")[0], "of all 17")
}

// cased is a page with more load cases than the list has room for.
func cased() page.Page {
	p := reading()
	p.Frame.Cases = []string{"dead", "snow", "wind", "imposed", "snow, drift"}
	for i := range p.Frame.Hops {
		p.Frame.Hops[i].Load = append(p.Frame.Hops[i].Load, 10, 20, 30)
	}
	p.Takedown = listing(p.Frame)
	for i := range p.Takedown.Members {
		for j := range p.Takedown.Members[i].Pieces {
			p.Takedown.Members[i].Pieces[j].Applied = make([]float64, 5)
		}
	}
	p.Takedown.Applied = nil
	return p
}

func manyCases(b *tab) {
	b.press(0, "RB1", 0.2)
	assert.Equal(b, "RB1 > W3 6.00", b.rows("down")[0])
	b.do(`(() => { const s = document.getElementById("case"); s.value = "4"; s.dispatchEvent(new Event("change")); })()`)
	assert.Equal(b, "RB1 > W3 0.03", b.rows("down")[0])
}

// seen are the marks that the plan, the list, the findings and the take-down show.
func (b *tab) seen() map[string][]string {
	b.Helper()
	return eval[map[string][]string](b, `(() => {
		const data = JSON.parse(document.getElementById("data").textContent), shown = (e) => getComputedStyle(e).display !== "none";
		return {
			drawn: [...document.querySelectorAll("#view-0 .members path")].filter(shown).map((e) => data.members[e.dataset.m][0]).sort(),
			listed: [...document.querySelectorAll("#list [role=option]")].filter(shown).map((e) => e.querySelector("b").textContent).sort(),
			found: [...document.querySelectorAll("main > section > .finding")].filter(shown).map((e) => e.querySelector("h4").textContent.split(/[: ]/)[0]).sort(),
			taken: [...document.querySelectorAll(".takedown tbody")].filter(shown).map((e) => e.querySelector("th").firstChild.textContent).sort(),
		};
	})()`)
}

func filtered(b *tab) {
	all := b.seen()
	assert.Len(b, all["drawn"], 13)
	assert.Len(b, all["listed"], 13)
	assert.Equal(b, []string{"B1", "J1", "PO1", "R1", "RB1"}, all["found"])
	assert.Equal(b, "13 of 13 members shown", eval[string](b, `document.getElementById("shown").textContent`))

	clear := `#states input[value="` + fmt.Sprint(len(draw.States)-1) + `"]`
	b.run(chromedp.Click(chromedp.CSS(clear)))
	some := b.seen()
	left := []string{"B1", "J1", "J2", "PO1", "R1", "RB1"}
	assert.Equal(b, left, some["drawn"])
	assert.Equal(b, left, some["listed"])
	assert.Equal(b, left, some["taken"])
	b.run(chromedp.Click(chromedp.CSS(clear)))

	choose := func(id, text string) {
		b.do(fmt.Sprintf(`(() => { const s = document.getElementById(%q); s.value = [...s.options].find((o) => o.textContent === %q).value; s.dispatchEvent(new Event("change", {bubbles: true})); })()`, id, text))
	}
	choose("role", "rafter")
	assert.Equal(b, []string{"R1", "R2"}, b.seen()["drawn"])
	assert.Equal(b, []string{"R1"}, b.seen()["found"])
	choose("role", "all")
	choose("sheet", "S-102")
	assert.Equal(b, []string{"B1", "J1", "J2", "PO1"}, b.seen()["listed"])
	b.press(0, "RB1", 0.13)
	assert.NotEqual(b, "RB1", b.picked(), "what is hidden cannot be picked")
	b.paper()
	assert.Equal(b, all["drawn"], b.seen()["drawn"], "on paper nothing is left out")
	assert.Equal(b, all["taken"], b.seen()["taken"])
}

func zoomed(b *tab) {
	box := func() string {
		return eval[string](b, `document.querySelector("#view-0 svg").getAttribute("viewBox")`)
	}
	whole := box()
	b.run(chromedp.Click(chromedp.CSS(`#view-0 [data-zoom="in"]`)))
	closer := box()
	assert.NotEqual(b, whole, closer)
	b.do(`(() => {
		const s = document.querySelector("#view-0 svg"), r = s.getBoundingClientRect();
		const fire = (type, dx) => s.dispatchEvent(new PointerEvent(type, { clientX: r.x + 200 + dx, clientY: r.y + 200, buttons: 1, bubbles: true }));
		fire("pointerdown", 0); fire("pointermove", 60); fire("pointerup", 60);
		s.dispatchEvent(new MouseEvent("click", { clientX: r.x + 260, clientY: r.y + 200, bubbles: true }));
	})()`)
	assert.NotEqual(b, closer, box())
	assert.Empty(b, b.picked(), "a drag picks nothing")
	b.run(chromedp.Click(chromedp.CSS(`#view-0 [data-zoom="all"]`)))
	assert.Equal(b, whole, box())
}

func kept(b *tab) {
	b.press(0, "RB1", 0.2)
	b.run(chromedp.Reload())
	assert.Equal(b, "RB1", b.picked())
}

// A4 less the margins of the page is 182 mm wide; a CSS inch is 96 pixels.
const a4 = 182 / 25.4 * 96

func printed(b *tab) {
	b.do(`dispatchEvent(new Event("beforeprint"))`)
	b.run(chromedp.EmulateViewport(687, 1000))
	b.paper()
	cut := eval[[]string](b, fmt.Sprintf(`[...document.querySelectorAll("table, td, th, dd, p, li, h1, h2, h3, h4, svg, .digest")].filter((e) => {
		const r = e.getBoundingClientRect();
		return r.width > 0 && (r.right > %g + 0.5 || r.left < -0.5 || e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== "inline" && e.localName !== "svg");
	}).map((e) => e.localName + " " + e.textContent.trim().slice(0, 40))`, a4))
	assert.Empty(b, cut)
	width := eval[float64](b, `document.querySelector("#view-0 svg").getBoundingClientRect().width`)
	assert.InDelta(b, 180/25.4*96, width, 0.5, "a drawing of 180 mm is printed 180 mm wide, so that its scale holds")
	assert.True(b, eval[bool](b, `[...document.querySelectorAll("details")].every((d) => d.open)`))
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	require.NoError(b, err)
	text := textOf(b.T, pdf)
	if text == "" {
		b.Log("pdftotext is not installed: the text of the print was not read")
		return
	}
	for _, want := range []string{"Deflection", "Arrived", "Building authority", "photograph 14", "EN 1993-1-1 6.2.5", "no approval and no warranty"} {
		assert.Contains(b, text, want)
	}
	assert.NotContains(b, text, "6.9 mm", "the working of a member about which nothing is to be done stays on the screen")
	b.do(`document.querySelector("#print-all").click()`)
	pdf, err = chromedp.Run(b.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	require.NoError(b, err)
	assert.Contains(b, textOf(b.T, pdf), "6.9 mm", "unless it is asked for")
}

// textOf reads a PDF with pdftotext (Debian: poppler-utils), empty without it.
func textOf(t *testing.T, pdf []byte) string {
	t.Helper()
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		return ""
	}
	file := filepath.Join(t.TempDir(), "print.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o600))
	out, err := exec.Command(tool, file, "-").Output()
	require.NoError(t, err)
	return strings.Join(strings.Fields(string(out)), " ")
}

func narrow(b *tab) {
	b.run(chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile))
	assert.LessOrEqual(b, eval[float64](b, `document.documentElement.scrollWidth`), 360.0)
	b.press(0, "RB1", 0.2)
	assert.Equal(b, "RB1", b.picked())
	assert.LessOrEqual(b, eval[float64](b, `document.documentElement.scrollWidth`), 360.0)
}

func accessible(b *tab) {
	axe, err := os.ReadFile(filepath.Join("..", "testdata", "axe", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		b.Skip("skipped: axe-core is not installed (npm ci in engine/report/testdata/axe)")
	}
	b.do(string(axe))
	b.press(0, "RB1", 0.2)
	found := eval[string](b, `axe.run(document, { resultTypes: ["violations"] }).then((r) => JSON.stringify(r.violations.map((v) => ({ id: v.id, impact: v.impact, nodes: v.nodes.map((n) => n.target.join(" ") + " " + (n.any[0] || {}).message).slice(0, 5) }))))`)
	var violations []struct {
		ID, Impact string
		Nodes      []string
	}
	require.NoError(b, json.Unmarshal([]byte(found), &violations))
	for _, v := range violations {
		b.Logf("%s (%s): %s", v.ID, v.Impact, strings.Join(v.Nodes, "; "))
		assert.NotContains(b, []string{"serious", "critical"}, v.Impact, v.ID)
	}
}

// hostile is text that would do harm as markup, as a script, as a style or as a request.
const hostile = `</script></style></title><img src=x onerror="owned=1"><script>owned=1</script>' onmouseover='owned=1' "><svg onload=owned=1>{{.}} ${owned=1} javascript:owned=1 <!-- <link rel=stylesheet href=http://127.0.0.1:9/x> \u003cb\u003e` + "`"

func hostilePage() page.Page {
	p := reading()
	for i := range p.Frame.Members {
		m := &p.Frame.Members[i]
		m.Role, m.Section, m.Grade, m.Drawings = hostile, hostile, hostile, []string{hostile}
		for j := range m.Working {
			m.Working[j] = finding.Step{Fact: hostile, Symbol: hostile, Unit: hostile, Clause: hostile}
		}
	}
	rename := func(mark *string) {
		if *mark == "RB1" {
			*mark = hostile
		}
	}
	for i := range p.Frame.Members {
		rename(&p.Frame.Members[i].Mark)
		for j := range p.Frame.Members[i].Pieces {
			rename(&p.Frame.Members[i].Pieces[j].Name)
		}
	}
	for i := range p.Frame.Hops {
		rename(&p.Frame.Hops[i].From)
		rename(&p.Frame.Hops[i].To)
	}
	p.Frame.Cases = []string{hostile, "snow"}
	p.Takedown = listing(p.Frame)
	p.Takedown.Notes = []string{hostile}
	for i := range p.Takedown.Members {
		p.Takedown.Members[i].Pieces[0].Unsolved = hostile
	}
	r := p.Result
	r.Version, r.Region, r.Notes, r.Incomplete = hostile, finding.Region{ID: hostile, Code: hostile, Edition: hostile}, []string{hostile}, []string{hostile}
	r.Model = finding.Model{Title: hostile, File: hostile, SHA256: hostile}
	r.Packs = []finding.Pack{{ID: hostile, Edition: hostile, Title: hostile, SHA256: hostile}}
	r.Loosened = []finding.Loosened{{Pack: hostile, Rule: hostile, What: hostile, From: hostile, To: hostile, Reason: hostile}}
	signed := finding.Signoff{Rule: hostile, Mark: hostile, Reason: hostile, Who: hostile, Authority: hostile, Reference: hostile, Date: hostile, Until: hostile, Lapsed: hostile}
	r.Signoffs, p.Signoffs = []finding.Signoff{signed}, []finding.Signoff{signed}
	r.Balance = []finding.Balance{{Case: hostile, Applied: 1}}
	for i := range r.Findings {
		f := &r.Findings[i]
		rename(&f.Member)
		f.ID, f.Rule, f.Title, f.Message, f.Action, f.Why, f.Reason, f.Source, f.Drawing, f.Case, f.Piece = hostile, hostile, hostile, hostile, hostile, hostile, hostile, hostile, hostile, hostile, hostile
		f.Found = &finding.Figure{Text: hostile}
		f.Related = []finding.Related{{Mark: hostile, Message: hostile}}
		f.Place = finding.Place{File: hostile, Line: 1, Column: 1, Pointer: hostile}
		f.Working = []finding.Step{{Symbol: hostile, Unit: hostile, Clause: hostile}}
	}
	p.Against = &page.Against{File: hostile, Summary: hostile,
		Changes: []page.Change{{Member: hostile, Kind: hostile, Drawn: hostile, Built: hostile, State: draw.State(hostile), Message: hostile, Effect: hostile, Evidence: hostile}},
		Shifts:  []page.Shifts{{Title: hostile, Loads: []page.Shift{{Where: hostile, Drawn: hostile, Built: hostile, More: hostile, Percent: hostile}}}}}
	p.Covered = []page.Covered{{Member: hostile, What: hostile, Before: hostile, Drawing: hostile, Seen: hostile}}
	p.Assumptions = []page.Assumption{{Text: hostile, Source: hostile}}
	return p
}

func inert(b *tab) {
	assert.Equal(b, "undefined", eval[string](b, `typeof owned`))
	assert.Equal(b, 2, eval[int](b, `document.querySelectorAll("script").length`))
	assert.Zero(b, eval[int](b, `document.querySelectorAll("img, iframe, link, object, embed, b > b").length`))
	assert.Zero(b, eval[int](b, `[...document.querySelectorAll("*")].filter((e) => [...e.attributes].some((a) => a.name.startsWith("on") || /^javascript:/i.test(a.value))).length`))
	assert.Equal(b, hostile, eval[string](b, `document.querySelector("h1").textContent`))
	b.run(chromedp.Focus(chromedp.CSS("#list")), chromedp.KeyEvent("<"))
	assert.Equal(b, hostile, b.picked())
	b.run(chromedp.Reload())
	assert.Equal(b, hostile, b.picked(), "the address names it and does no harm")
	assert.Equal(b, "undefined", eval[string](b, `typeof owned`))
}

func responds(b *tab) {
	f := sample.Big(10000)
	timed := func(what string, script string) {
		took := eval[float64](b, `new Promise((done) => { const t = performance.now(); `+script+`; requestAnimationFrame(() => setTimeout(() => done(performance.now() - t))); })`)
		b.Logf("%s: %.0f ms to the next frame", what, took)
	}
	b.Logf("%d pieces, %d bytes", len(f.Members), len(html(b.T, big(10000))))
	timed("picking by keyboard", `document.getElementById("list").dispatchEvent(new KeyboardEvent("keydown", { key: "End", bubbles: true }))`)
	last := f.Members[len(f.Members)-1].Mark
	assert.Equal(b, last, b.picked())
	assert.Equal(b, expected(f, draw.PathOf(f, last).Down), b.rows("down"))
	timed("picking a wall that 500 joists rest on", `document.querySelector("#down button[data-pick]:last-child").closest("tr").querySelectorAll("button")[1].click()`)
	timed("filtering by state", `document.querySelector("#states input").click()`)
	assert.Less(b, len(b.seen()["drawn"]), len(f.Members))
	timed("filtering by drawing", `(() => { const s = document.getElementById("sheet"); s.value = "1"; s.dispatchEvent(new Event("change", { bubbles: true })); })()`)
	b.press(0, "J501", 0.5)
	assert.NotEmpty(b, b.picked())
}
