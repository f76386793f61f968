package main

import (
	"bytes"
	"context"
	"encoding/base64"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"springwright/cmd/springwright/desk"
	"springwright/design/casefile"
	"springwright/design/solve"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// browser starts a real browser, or skips aloud where there is none; on CI there has to be one.
func browser(t *testing.T) context.Context {
	t.Helper()
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("chromium is missing")
		}
		t.Skip("SKIPPED: chromium is missing, the page is not tested in a browser")
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.WindowSize(1280, 900))
	allocator, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, stopPage := chromedp.NewContext(allocator)
	t.Cleanup(stopPage)
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1280, 900)); err != nil {
		t.Fatal(err)
	}
	return ctx
}

// served is a desk of a folder; its address has the token.
func served(t *testing.T, folder string) (address string, stop context.CancelFunc) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	opened, done := make(chan string, 1), make(chan error, 1)
	go func() {
		done <- desk.Serve(ctx, desk.Options{Folder: folder, Version: version, IdleAfter: time.Minute, Opened: func(address string) error {
			opened <- address
			return nil
		}})
	}()
	t.Cleanup(func() {
		cancel()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	select {
	case address = <-opened:
	case err := <-done:
		done <- err
		t.Fatal(err)
	}
	return address, cancel
}

// page does one thing after the other on a page, each within a generous time: a busy machine is no
// fault of the page.
type page struct {
	t   *testing.T
	ctx context.Context
}

func (p page) do(what string, steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, time.Minute)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.t.Fatalf("%s: %v", what, err)
	}
}

// value evaluates JavaScript.
func value[T any](p page, script string) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, time.Minute)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		p.t.Fatalf("%s: %v", script, err)
	}
	return v
}

// until waits for a condition in JavaScript.
func (p page) until(condition string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, time.Minute)
	defer cancel()
	if _, err := chromedp.Run(ctx, chromedp.Poll[bool](condition, chromedp.WithPollingInterval(20*time.Millisecond))); err != nil {
		looked, stop := context.WithTimeout(p.ctx, 5*time.Second)
		defer stop()
		shown, _ := chromedp.Run(looked, chromedp.Evaluate[string](`location.href + "\n" + document.body.innerText.slice(0, 400)`))
		p.t.Fatalf("waiting for %s: %v, at\n%s", condition, err, shown)
	}
}

// typed puts a text into a field as a hand does, which sends it when the field is left.
func (p page) typed(id, text string) {
	p.t.Helper()
	before := value[string](p, `document.body.dataset.forms ?? "0"`)
	field := "#" + id
	p.do("typing into "+id, chromedp.ScrollIntoView(field), chromedp.Clear(field), chromedp.SendKeys(field, text+kb.Tab))
	p.until(`document.body.dataset.forms !== ` + fmt.Sprintf("%q", before))
}

func (p page) chosen(id, option string) {
	p.t.Helper()
	before := value[string](p, `document.body.dataset.forms ?? "0"`)
	p.do("choosing in "+id, chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		script := fmt.Sprintf(`(() => { const e = document.getElementById(%q); e.value = %q; e.dispatchEvent(new Event("change", { bubbles: true })); return e.value; })()`, id, option)
		got, err := chromedp.Evaluate[string](script)(ctx, target)
		if err == nil && got != option {
			err = fmt.Errorf("%s has no %q", id, option)
		}
		return err
	}))
	p.until(`document.body.dataset.forms !== ` + fmt.Sprintf("%q", before))
}

// TestDeskFromNothing fills in a case from nothing, searches, changes a bend, saves, and holds
// what the page shows against the library and the sheet against that of the command.
func TestDeskFromNothing(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes some seconds")
	}
	t.Setenv("SOURCE_DATE_EPOCH", "1767225600")
	folder := t.TempDir()
	address, _ := served(t, folder)
	p := page{t, browser(t)}
	p.do("opening", chromedp.Navigate(address))
	p.until(`document.querySelector("#go-measure") !== null`)
	if at := value[string](p, "location.href"); strings.Contains(at, "token") {
		t.Errorf("the token stays in the address: %s", at)
	}
	p.do("a new case", chromedp.Click("#new-case"))
	p.until(`document.querySelector("#f-case")?.value === "case-1"`)
	p.do("picking the teeth", chromedp.Click("#tooth-37"))
	p.until(`document.querySelector("#tooth-37").getAttribute("aria-pressed") === "true"`)
	p.do("picking the anchor", chromedp.Click("#tooth-36"))
	p.until(`document.querySelector("#tooth-36").getAttribute("aria-pressed") === "true"`)
	// Left out on purpose: what is missing is said at its place.
	if n := value[int](p, `document.querySelectorAll("#measure .fault").length`); n < 5 {
		t.Errorf("an empty case is marked at %d places, want each part that is missing", n)
	}
	p.typed("f-title", "test of the page")
	p.typed("f-now\\.along_mm", "12,5") // a decimal comma is understood
	p.chosen("f-now.B-way", "now.occlusal_mm")
	p.typed("f-now\\.B", "2")
	p.typed("f-goal\\.B", "0")
	for _, f := range [][2]string{
		{"f-anchor_slot\\.height_mm", "0.022in"},
		{"f-anchor_slot\\.length_mm", "4"},
		{"f-active_slot\\.height_mm", "0.022in"},
		{"f-active_slot\\.length_mm", "3.5"},
		{"f-limits\\.fold_depth_mm", "10"},
		{"f-limits\\.room_mesial_mm", "7"},
		{"f-limits\\.room_distal_mm", "6"},
	} {
		p.typed(f[0], f[1])
	}
	p.chosen("f-active_slot.enter", "from behind")
	p.do("what is wanted", chromedp.Click("#go-want"))
	p.typed("f-target\\.start\\.vertical", "0.3")
	p.typed("f-target\\.start\\.vertical-max", "0.6")
	p.typed("f-target\\.travel\\.vertical", "0.05")
	p.typed("f-target\\.travel\\.vertical-max", "0.6")
	p.do("wire and kind", chromedp.Click("#go-kind"))
	p.chosen("f-wire.alloy", "beta-titanium")
	p.typed("f-wire\\.thickness_mm", "0.017in")
	p.typed("f-wire\\.width_mm", "0.025in")
	p.do("the kind", chromedp.Click("#kind-rectangular-loop"))
	p.until(`document.querySelectorAll("nav small:not(:empty)").length === 0`)
	p.do("the search", chromedp.Click("#go-result"), chromedp.Focus("#search"), chromedp.KeyEvent(kb.Enter))
	p.until(`document.querySelector(".headline") !== null && document.querySelector("#about h3") !== null`)
	if at := value[string](p, `document.activeElement.id`); at != "search" {
		t.Errorf("after a search by keys the focus is at %q", at)
	}

	// A bend is changed by its handle: first by keys, then by dragging.
	index := value[int](p, `Number([...document.querySelectorAll("circle.handle")].find(h => h.getAttribute("aria-label").startsWith("bend 3")).id.slice(7))`)
	number := func() float64 {
		return value[float64](p, fmt.Sprintf(`Number(document.getElementById("n-%d").value)`, index))
	}
	before := number()
	p.do("turning a bend by keys", chromedp.Focus(fmt.Sprintf("#handle-%d", index)), chromedp.KeyEvent(kb.ArrowUp))
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d").value) === %v`, index, before+1))
	p.do("taking it back", chromedp.Click("#undo"))
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d")?.value) === %v`, index, before))
	at := value[[]float64](p, fmt.Sprintf(`(() => { const h = document.getElementById("handle-%d"); h.scrollIntoView({ block: "center" }); const r = h.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`, index))
	p.do("dragging a bend", chromedp.DragAndDropXY(at[0], at[1], at[0]+14, at[1]+14, 8))
	p.until(fmt.Sprintf(`Number(document.getElementById("n-%d").value) !== %v`, index, before))
	p.do("saving", chromedp.Click("#save-case"))
	p.until(`document.getElementById("saved").textContent === "saved"`)

	text, err := os.ReadFile(filepath.Join(folder, "case-1.toml"))
	if err != nil {
		t.Fatal(err)
	}
	c, err := casefile.ReadCase("case-1.toml", text)
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	springText, err := os.ReadFile(filepath.Join(folder, "case-1-spring.toml"))
	if err != nil {
		t.Fatal(err)
	}
	s, err := casefile.ReadSpring("case-1-spring.toml", springText)
	if err != nil {
		t.Fatal(err)
	}
	e, err := solve.Evaluate(t.Context(), s, solve.Options{})
	if err != nil {
		t.Fatal(err)
	}
	forceN := e.Record.Positions[0].Active.ForceN.Z
	shown := value[string](p, `document.querySelector(".verdicts").innerText`)
	if want := fmt.Sprintf("%.3f N", forceN); forceN <= 0 || !strings.Contains(shown, want) {
		t.Errorf("the page shows\n%s\nwithout the %s that the library finds for the saved spring", shown, want)
	}

	// The sheet of a searched spring is the command's, byte for byte.
	p.do("the search again", chromedp.Click("#search"))
	p.until(`document.querySelector("#search-progress") === null && document.querySelector("#about h3") !== null`)
	sheet, err := base64.StdEncoding.DecodeString(value[string](p, `(async () => {
		const d = window.desk;
		const r = await fetch("api/v1/sheet", { method: "POST", headers: { "Content-Type": "application/json" },
			body: JSON.stringify({ text: d.text, spring: d.spring, lang: "en", paper: "a4", across: "", up: "" }) });
		const b = new Uint8Array(await r.arrayBuffer());
		let s = "";
		for (const x of b) s += String.fromCharCode(x);
		return btoa(s);
	})()`))
	if err != nil {
		t.Fatal(err)
	}
	out := t.TempDir()
	var stdout, stderr bytes.Buffer
	if code := run(t.Context(), []string{"design", filepath.Join(folder, "case-1.toml"), "--out", filepath.Join(out, "o"), "--quiet"}, console{stdout: &stdout, stderr: &stderr}); code != exitDone {
		t.Fatalf("design: %d\n%s", code, &stderr)
	}
	command, err := os.ReadFile(filepath.Join(out, "o", "template.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(sheet, command) {
		t.Errorf("the page's sheet has %d bytes, the command's %d, and they differ", len(sheet), len(command))
	}
	if c.Title != "test of the page" {
		t.Errorf("title %q", c.Title)
	}
}

// TestDeskTwoPages: who saves second is told, and nothing is overwritten.
func TestDeskTwoPages(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes some seconds")
	}
	folder := t.TempDir()
	address, _ := served(t, folder)
	first := page{t, browser(t)}
	first.do("opening", chromedp.Navigate(address))
	first.until(`document.querySelector("#f-title") !== null`)
	first.do("saving the example", chromedp.Click("#save-case"))
	first.until(`document.getElementById("saved").textContent === "saved"`)
	second := page{t, browser(t)}
	second.do("opening", chromedp.Navigate(address))
	second.until(`document.querySelector("#f-title") !== null`)
	second.typed("f-title", "theirs")
	second.do("saving", chromedp.Click("#save-case"))
	second.until(`document.getElementById("saved").textContent === "saved"`)
	first.typed("f-title", "mine")
	first.do("saving", chromedp.Click("#save-case"))
	first.until(`!document.getElementById("message").hidden`)
	text, err := os.ReadFile(filepath.Join(folder, "demo.toml"))
	if err != nil || !bytes.Contains(text, []byte(`title = "theirs"`)) {
		t.Errorf("%v: the file holds not what was saved first:\n%s", err, text)
	}
}

// TestDeskSpeaks shows every step in every language: no text of the page may be missing, and none
// may run wider than the window.
func TestDeskSpeaks(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes some seconds")
	}
	address, stop := served(t, t.TempDir())
	p := page{t, browser(t)}
	p.do("opening", chromedp.Navigate(address))
	p.until(`document.querySelector("#f-title") !== null`)
	for _, lang := range []string{"en", "pt", "es"} {
		p.chosen("language", lang)
		for _, step := range []string{"measure", "want", "kind", "result", "sheet"} {
			p.do(step, chromedp.Click("#go-"+step))
			if missing := value[string](p, `(document.body.innerText.match(/\[[a-z 0-9%]+\]|undefined|null/) ?? [""])[0]`); missing != "" {
				t.Errorf("%s, %s: %q on the page", lang, step, missing)
			}
			for _, width := range []int64{1024, 1280, 1800} {
				p.do("width", chromedp.EmulateViewport(width, 800))
				if over := value[int](p, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 0 {
					t.Errorf("%s, %s: %d px wider than a window of %d px", lang, step, over, width)
				}
			}
		}
	}
	// What can be clicked can be reached by keys, and has a name for those who cannot see it.
	for _, step := range []string{"measure", "want", "kind", "sheet"} {
		p.do(step, chromedp.Click("#go-"+step))
		if nameless := value[string](p, `[...document.querySelectorAll("button, input, select, [role=button], [role=slider]")].filter(e => e.offsetParent !== null || e.ownerSVGElement).filter(e => !(e.textContent.trim() || e.getAttribute("aria-label") || (e.labels && e.labels.length))).map(e => e.id || e.outerHTML).join("; ")`); nameless != "" {
			t.Errorf("%s: no name for %s", step, nameless)
		}
		if lost := value[string](p, `[...document.querySelectorAll("[role=button], [role=slider]")].filter(e => e.tabIndex < 0 && !e.closest("[role=group]")).map(e => e.id).join("; ")`); lost != "" {
			t.Errorf("%s: not reached by keys: %s", step, lost)
		}
	}
	// The arch is one stop, in which arrow keys go from tooth to tooth and Enter picks.
	p.do("the arch", chromedp.Click("#go-measure"))
	if stops := value[int](p, `[...document.querySelectorAll(".arch [role=button]")].filter(e => e.tabIndex === 0).length`); stops != 1 {
		t.Errorf("the arch has %d stops for Tab, want 1", stops)
	}
	p.do("along the arch", chromedp.Focus("#tooth-37"), chromedp.KeyEvent(kb.ArrowLeft), chromedp.KeyEvent(kb.ArrowLeft))
	if at := value[string](p, `document.activeElement.id`); at != "tooth-35" {
		t.Errorf("two to the left of 37 is %s", at)
	}
	p.do("picking by Enter", chromedp.KeyEvent(kb.Enter))
	p.until(`document.getElementById("tooth-35").getAttribute("aria-pressed") === "true"`)
	// Of one tooth nothing is said that is true of two.
	if text := value[string](p, `document.querySelector("#measure [role=status]").textContent`); text != "" {
		t.Errorf("with one tooth picked the page says %q", text)
	}
	// A server that is gone is said.
	stop()
	p.until(`(async () => { try { await fetch("api/v1/new"); return false; } catch { return true; } })()`)
	p.do("asking it", chromedp.Click("#new-case"))
	p.until(`!document.getElementById("message").hidden`)
}

// TestDeskOnlyAnswersItsPage asks a desk as other programs of the machine would.
func TestDeskOnlyAnswersItsPage(t *testing.T) {
	folder := t.TempDir()
	outside := filepath.Join(filepath.Dir(folder), "secret.toml")
	if err := os.WriteFile(outside, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	address, _ := served(t, folder)
	base, query, _ := strings.Cut(address, "/?token=")
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	ask := func(method, path, cookie string, body []byte) int {
		t.Helper()
		r, err := http.NewRequest(method, base+path, bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		if cookie != "" {
			r.Header.Set("Cookie", "springwright-"+base[strings.LastIndex(base, ":")+1:]+"="+cookie)
		}
		r.Header.Set("Content-Type", "application/json")
		answer, err := client.Do(r)
		if err != nil {
			return 0 // the server hung up
		}
		answer.Body.Close()
		return answer.StatusCode
	}
	for _, c := range []struct {
		what, method, path, cookie string
		body                       []byte
		want                       int
	}{
		{"no token", "GET", "/", "", nil, http.StatusForbidden},
		{"the page", "GET", "/", query, nil, http.StatusOK},
		{"another file", "GET", "/api/v1/files/..%2Fsecret.toml", query, nil, http.StatusBadRequest},
		{"a folder up", "GET", "/api/v1/files/../../secret.toml", query, nil, http.StatusTemporaryRedirect},
		{"a file outside by its cleaned path", "GET", "/secret.toml", query, nil, http.StatusNotFound},
		{"its own source", "GET", "/../server.go", query, nil, http.StatusTemporaryRedirect},
		{"no JSON", "POST", "/api/v1/form", query, []byte("hello"), http.StatusBadRequest},
		{"an unknown key", "POST", "/api/v1/form", query, []byte(`{"txt": ""}`), http.StatusBadRequest},
		{"a spring of nothing", "POST", "/api/v1/live", query, []byte(`{"text": "", "spring": ""}`), http.StatusUnprocessableEntity},
		{"a file without its version", "PUT", "/api/v1/files/a.toml", query, []byte(`{"text": ""}`), http.StatusPreconditionRequired},
		{"the wrong method", "DELETE", "/api/v1/files/a.toml", query, nil, http.StatusMethodNotAllowed},
	} {
		if got := ask(c.method, c.path, c.cookie, c.body); got != c.want {
			t.Errorf("%s: status %d, want %d", c.what, got, c.want)
		}
	}
	if got := ask("POST", "/api/v1/form", query, bytes.Repeat([]byte("x"), 100<<20)); got != http.StatusRequestEntityTooLarge && got != http.StatusBadRequest && got != 0 {
		t.Errorf("100 MB: status %d, want a refusal", got)
	}
	if entries, _ := os.ReadDir(folder); len(entries) != 0 {
		t.Errorf("written: %v", entries)
	}
}
