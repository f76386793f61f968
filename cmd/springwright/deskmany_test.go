package main

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/google/go-cmp/cmp"
)

// given drops files onto a place of the page.
func (p page) given(id, name, kind string, data []byte) {
	p.t.Helper()
	value[bool](p, fmt.Sprintf(`(() => {
		const bytes = Uint8Array.from(atob(%q), c => c.charCodeAt(0)), all = new DataTransfer();
		all.items.add(new File([bytes], %q, { type: %q }));
		document.getElementById(%q).dispatchEvent(new DragEvent("drop", { dataTransfer: all, bubbles: true, cancelable: true }));
		return true;
	})()`, base64.StdEncoding.EncodeToString(data), name, kind, id))
}

// quickDay is a folder with a case that is searched in half a second, and a list of three orders of it: one on the
// other side as well, and one with a fault.
func quickDay(t *testing.T) (folder string, list []byte) {
	t.Helper()
	folder = quickOrders(t, "quick")
	return folder, []byte("order;due;case;A now.along_mm;limits.room_distal_mm\nday-1;14:00;quick.toml;;\nday-2;09:00;quick.toml;;11,5\nday-3;;quick.toml;400;\n")
}

// TestDeskMakesOrders drops a list, is shown its fault by row and cell before anything is made, makes it, and has the
// files of the command, byte for byte; made again nothing is made anew. The papers open.
func TestDeskMakesOrders(t *testing.T) {
	folder, list := quickDay(t)
	address, _ := served(t, folder)
	p := deskPage(t, address)
	p.click("place-orders")
	p.until(`document.getElementById("orders-choose") !== null`)
	if seen := value[bool](p, `document.getElementById("steps").checkVisibility() || document.getElementById("new-case").checkVisibility()`); seen {
		t.Error("what belongs to one spring is still shown")
	}
	p.given("orders-drop", "day.csv", "text/csv", list)
	p.until(`document.querySelector("#orders-faults") !== null && document.getElementById("orders-make") !== null`)
	if cells := value[[]string](p, `[...document.querySelectorAll("#orders-faults tbody td")].map(c => c.textContent)`); len(cells) != 5 || cells[0] != "4" || cells[1] != "D4" || cells[2] != "A now.along_mm" || !strings.Contains(cells[3], "400 mm is out of range") || cells[4] == "" {
		t.Errorf("the faults are told as %q", cells)
	}
	if entries, _ := os.ReadDir(folder); len(entries) != 1 {
		t.Errorf("before anything is made the folder holds %v", entries)
	}
	p.click("orders-make")
	p.until(`window.desk.orders.busy === "" && (window.desk.orders.day !== null || window.desk.orders.error !== null)`)
	if states := value[string](p, `[...document.querySelectorAll("#orders-day tbody tr")].map(r => r.dataset.order + " " + r.children[5].textContent).join("; ")`); states != "day-2 made; day-1 made; day-3 faulty order" {
		t.Fatalf("the day is %q, %s", states, value[string](p, `document.getElementById("orders-error")?.textContent ?? ""`))
	}
	out := filepath.Join(t.TempDir(), "out")
	if err := os.WriteFile(filepath.Join(folder, "day.csv"), list, 0o600); err != nil {
		t.Fatal(err)
	}
	var stdout, stderr bytes.Buffer
	if code := run(t.Context(), []string{"batch", filepath.Join(folder, "day.csv"), "--out", out, "--quiet"}, console{stdout: &stdout, stderr: &stderr}); code != exitFile {
		t.Fatalf("batch: %d\n%s", code, &stderr)
	}
	got, want := withoutLocks(t, filepath.Join(folder, "day-springs")), withoutLocks(t, out)
	if diff := cmp.Diff(names(want), names(got)); diff != "" || len(want) < 20 {
		t.Fatalf("files (-command +page):\n%s", diff)
	}
	for name := range want {
		if got[name] != want[name] {
			t.Errorf("%s: the page writes other bytes than the command", name)
		}
	}

	// From the folder the same list makes nothing anew.
	p.click("place-class")
	p.until(`document.getElementById("class-make") !== null`)
	p.click("place-orders")
	p.until(`[...document.querySelectorAll("#orders-from option")].some(o => o.value === "day.csv")`)
	value[bool](p, `(() => { const e = document.getElementById("orders-from"); e.value = "day.csv"; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`)
	p.until(`document.getElementById("orders-make") !== null && window.desk.orders.busy === ""`)
	p.click("orders-make")
	p.until(`window.desk.orders.busy === "" && window.desk.orders.day !== null`)
	if text := value[string](p, `document.getElementById("orders").innerText`); !strings.Contains(text, "made by this run 0") {
		t.Errorf("made again it says %q", text)
	}
	for _, link := range value[[]string](p, `[...document.querySelectorAll("#orders-papers a, #orders-day a")].map(a => a.href)`) {
		kind := value[string](p, fmt.Sprintf(`fetch(%q).then(async r => r.status + " " + r.headers.get("Content-Type") + " " + (await r.blob()).size)`, link))
		if !strings.HasPrefix(kind, "200 application/pdf ") && !strings.HasPrefix(kind, "200 text/csv") {
			t.Errorf("%s: %s", link, kind)
		}
	}
	p.click("orders-day tbody tr a")
	p.viewer("template.pdf")
}

// viewer waits until the browser shows a paper of the folder.
func (p page) viewer(name string) {
	p.t.Helper()
	p.viewed(name, func(at *target.Info) bool {
		return strings.HasSuffix(at.URL, "/"+name) && at.Title != "" && !strings.HasPrefix(at.Title, "127.")
	})
}

// classFolder is a class of three that was handed out earlier, and a table of what two of them have bent: that of the
// script "class".
func classFolder(t *testing.T, folder string) (table []byte) {
	t.Helper()
	script, err := os.ReadFile(filepath.Join("testdata", "class.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	parts := strings.Split(string(script), "\n-- ")
	if err := os.Mkdir(filepath.Join(folder, "class"), 0o777); err != nil {
		t.Fatal(err)
	}
	for _, part := range parts[1:] {
		name, text, _ := strings.Cut(part, " --\n")
		switch {
		case strings.HasPrefix(name, "class/"):
			if err := os.WriteFile(filepath.Join(folder, name), []byte(text+"\n"), 0o600); err != nil {
				t.Fatal(err)
			}
		case name == "read.csv":
			table = []byte(text + "\n")
		}
	}
	return table
}

// TestDeskMarksAClass drops a table of readings for a class that was handed out, and holds the overview and the
// files against "mark".
func TestDeskMarksAClass(t *testing.T) {
	folder := t.TempDir()
	read := classFolder(t, folder)
	address, _ := served(t, folder)
	p := deskPage(t, address)
	p.click("place-class")
	p.until(`document.getElementById("mark-class") !== null`)
	p.given("mark-drop", "read.csv", "text/csv", read)
	p.until(`!document.getElementById("mark-go").disabled`)
	value[bool](p, `(() => { const e = document.getElementById("mark-bands"); e.value = "A"; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`)
	p.click("mark-go")
	p.until(`document.getElementById("mark-bands").getAttribute("aria-invalid") === "true" && window.desk.class.busy === ""`)
	if hint := value[string](p, `document.getElementById("mark-bands-fault").textContent`); !strings.Contains(hint, "A:2.5/0.5") || p.focused() != "mark-bands" {
		t.Errorf("of grades that are none it says %q, with the focus at %s", hint, p.focused())
	}
	value[bool](p, `(() => { const e = document.getElementById("mark-bands"); e.value = ""; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`)
	p.click("mark-go")
	p.until(`window.desk.class.busy === "" && (window.desk.class.marks !== null || window.desk.class.markError !== null)`)
	text := value[string](p, `document.getElementById("class").innerText`)
	for _, want := range []string{"Springs marked: 1. Grades: A: 0, B: 0, C: 0, F: 1.", "Goes wrong most: bend", "demo-37-01", "is the code of no student of this class", "Nothing handed in: demo-37-02, demo-37-03."} {
		if !strings.Contains(text, want) {
			t.Errorf("the overview lacks %q:\n%s", want, text)
		}
	}
	if bars := value[int](p, `document.querySelectorAll("#marks-chart text").length`); bars < 7+2 {
		t.Errorf("the chart has %d texts", bars)
	}
	out := filepath.Join(t.TempDir(), "out")
	if err := os.WriteFile(filepath.Join(folder, "read.csv"), read, 0o600); err != nil {
		t.Fatal(err)
	}
	t.Chdir(folder)
	var stdout, stderr bytes.Buffer
	if code := run(t.Context(), []string{"mark", "read.csv", "--class", "class", "--out", out, "--quiet"}, console{stdout: &stdout, stderr: &stderr}); code != exitDone {
		t.Fatalf("mark: %d\n%s", code, &stderr)
	}
	for _, name := range []string{"marks.pdf", "marks.csv"} {
		want, err := os.ReadFile(filepath.Join(out, name))
		got, err2 := os.ReadFile(filepath.Join(folder, "class-marks", name))
		if err != nil || err2 != nil || !bytes.Equal(got, want) {
			t.Errorf("%s: the page writes %d bytes, the command %d; %v, %v", name, len(got), len(want), err, err2)
		}
	}
	// What is no picture is told, and nothing else is lost.
	p.given("mark-drop", "demo-37-02.png", "image/png", []byte("no picture"))
	p.click("mark-go")
	p.until(`window.desk.class.busy === "" && document.getElementById("marks-unread") !== null`)
	if said := value[string](p, `document.getElementById("marks-unread").innerText`); !strings.Contains(said, "demo-37-02.png") {
		t.Errorf("of a picture that is none it says %q", said)
	}
}

// TestDeskHandsOut makes a class of two of a quick case, and holds its files against "handout". A case that no spring
// meets is told in the language of the page.
func TestDeskHandsOut(t *testing.T) {
	folder := quickClass(t)
	address, _ := served(t, folder)
	p := deskPage(t, address)
	p.click("place-class")
	p.until(`document.querySelector("#class-case optgroup option") !== null`)
	for id, v := range map[string]string{"class-case": "case:lesson.toml", "class-students": "2"} {
		value[bool](p, fmt.Sprintf(`(() => { const e = document.getElementById(%q); e.value = %q; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`, id, v))
	}
	p.click("class-make")
	p.until(`window.desk.class.busy === "" && (window.desk.class.made !== null || window.desk.class.error !== null)`)
	if text := value[string](p, `document.getElementById("class-error")?.textContent ?? ""`); text != "" {
		t.Fatal(text)
	}
	dir := value[string](p, `window.desk.class.made.folder`)
	out := filepath.Join(t.TempDir(), "out")
	t.Chdir(folder)
	var stdout, stderr bytes.Buffer
	if code := run(t.Context(), []string{"handout", "lesson.toml", "--students", "2", "--out", out, "--quiet"}, console{stdout: &stdout, stderr: &stderr}); code != exitDone {
		t.Fatalf("handout: %d\n%s", code, &stderr)
	}
	got, want := tree(t, filepath.Join(folder, dir)), tree(t, out)
	delete(want, "class-files.txt") // what --force may replace: the page never replaces a class
	if diff := cmp.Diff(names(want), names(got)); diff != "" || len(want) != 9 {
		t.Fatalf("files (-command +page):\n%s", diff)
	}
	for name := range want {
		if got[name] != want[name] {
			t.Errorf("%s: the page writes other bytes than the command", name)
		}
	}
	if links := value[int](p, `document.querySelectorAll("#class-papers a").length`); links != 4 {
		t.Errorf("%d papers are offered", links)
	}
	if chosen := value[string](p, `document.getElementById("mark-class").value`); chosen != dir {
		t.Errorf("to be marked is %q, not the class that was made", chosen)
	}
}

// quickClass is a folder with a case whose springs are searched and bent in trial in a second.
func quickClass(t *testing.T) string {
	t.Helper()
	folder := quickOrders(t, "lesson")
	file := filepath.Join(folder, "lesson.toml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, bytes.ReplaceAll(text, []byte("springs = 0"), []byte("springs = 60")), 0o600); err != nil {
		t.Fatal(err)
	}
	return folder
}

// TestDeskSavesAJig has the plate of "jig" for the same spring, and a clearance that is none marked at its field.
func TestDeskSavesAJig(t *testing.T) {
	folder := t.TempDir()
	p := quickPage(t, folder)
	p.click("save-case")
	p.until(`document.getElementById("saved").textContent === "saved"`)
	p.click("go-sheet")
	p.click("save-jig")
	p.until(`document.getElementById("jig-told").textContent.includes("demo-37-jig.stl")`)
	stl, err := base64.StdEncoding.DecodeString(value[string](p, `fetch("api/v1/jig", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ text: desk.text, spring: desk.spring, lang: "en" }) }).then(r => r.json()).then(j => j.stl)`))
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "jig.stl")
	command(t, "jig", filepath.Join(folder, "demo-spring.toml"), "--code", "demo-37", "--out", out)
	want, err := os.ReadFile(out)
	if err != nil || !bytes.Equal(stl, want) || binary.LittleEndian.Uint32(stl[80:]) < 1000 {
		t.Errorf("the page's plate has %d bytes, the command's %d; %v", len(stl), len(want), err)
	}
	value[bool](p, `(() => { const e = document.getElementById("jig-clearance"); e.value = "5"; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`)
	p.click("save-jig")
	p.until(`document.getElementById("jig-clearance").getAttribute("aria-invalid") === "true"`)
	if at := p.focused(); at != "jig-clearance" {
		t.Errorf("the focus is at %q", at)
	}
}

// manySteps are the two pages of many springs with all that they can show but progress.
func manySteps(t *testing.T, p page, read, list []byte, each func(place string)) {
	t.Helper()
	p.click("place-orders")
	p.until(`document.getElementById("orders-choose") !== null`)
	p.given("orders-drop", "day.csv", "text/csv", list)
	p.until(`document.getElementById("orders-make") !== null && window.desk.orders.busy === ""`)
	if value[bool](p, `window.desk.orders.day === null`) {
		p.click("orders-make")
		p.until(`window.desk.orders.busy === "" && window.desk.orders.day !== null`)
	}
	each("orders")
	p.click("place-class")
	p.until(`document.getElementById("mark-class") !== null`)
	p.given("mark-drop", "read.csv", "text/csv", read)
	p.until(`!document.getElementById("mark-go").disabled`)
	p.click("mark-go")
	p.until(`window.desk.class.busy === "" && window.desk.class.marks !== null`)
	each("class")
}

// TestDeskManySpeaks looks at both pages in every language and width: no text is missing, none is wider than the
// window, every control has a name, can be read, and on a tablet is as large as a fingertip.
func TestDeskManySpeaks(t *testing.T) {
	folder, list := quickDay(t)
	read := classFolder(t, folder)
	address, _ := served(t, folder)
	p := deskPage(t, address)
	for _, lang := range []string{"en", "pt", "es"} {
		p.chosen("language", lang)
		manySteps(t, p, read, list, func(place string) {
			if missing := value[string](p, `(document.body.innerText.match(/\[[a-z 0-9%]+\]|undefined|null|NaN/) ?? [""])[0]`); missing != "" {
				t.Errorf("%s, %s: %q on the page", lang, place, missing)
			}
			for _, width := range []int64{820, 1280, 1800} {
				p.do("width", chromedp.EmulateViewport(width, 900))
				if over := value[int](p, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); over > 0 {
					t.Errorf("%s, %s: %d px wider than a window of %d px", lang, place, over, width)
				}
				if *picturesDir != "" {
					p.picture(filepath.Join(*picturesDir, fmt.Sprintf("%s-%s-%d.png", place, lang, width)), true)
				}
			}
			if faint := value[string](p, contrastScript); faint != "" {
				t.Errorf("%s: hardly to be read: %s", place, faint)
			}
			if nameless := value[string](p, `[...document.querySelectorAll("main button, main select, main input, main a, main [role=img], main progress")].filter(e => e.checkVisibility() && !(e.labels?.length || e.textContent.trim() || e.ariaLabel)).map(e => e.outerHTML.slice(0, 60)).join("; ")`); nameless != "" {
				t.Errorf("%s: without a name: %s", place, nameless)
			}
		})
	}
	p.do("a tablet", chromedp.EmulateViewport(820, 1180, chromedp.EmulateTouch, chromedp.EmulateMobile))
	for _, place := range []string{"orders", "class"} {
		p.click("place-" + place)
		small := value[string](p, `[...document.querySelectorAll("button, select, input:not([type=radio]), summary, a.button")].filter(e => e.checkVisibility()).map(e => [e.id || e.textContent, e.getBoundingClientRect()]).filter(([, r]) => r.height < 44 || r.width < 44).map(([n, r]) => n + " " + Math.round(r.width) + "×" + Math.round(r.height)).join("; ")`)
		if small != "" {
			t.Errorf("%s: smaller than a fingertip: %s", place, small)
		}
	}
	// By keys alone to another list, and to the class.
	p.tabTo("place-orders")
	p.press(kb.Enter)
	p.until(`document.body.dataset.place === "orders"`)
	for _, id := range []string{"orders-choose", "blank-list", "orders-from", "orders-folder", "orders-make"} {
		p.tabTo(id)
	}
	p.press(kb.Enter)
	p.until(`window.desk.orders.busy === "" && window.desk.orders.day !== null`)
	if at := p.focused(); at != "orders-make" {
		t.Errorf("after a run by keys the focus is at %q", at)
	}
}
