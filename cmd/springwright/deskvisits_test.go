package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestDeskShowsVisits opens a case folder with two visits, and holds what the page tells against "visit"; a case
// without a history has no such step.
func TestDeskShowsVisits(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes some seconds")
	}
	folder := t.TempDir()
	for name, from := range map[string]string{"case.toml": "loop.toml", "spring.toml": "loop-spring.toml"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "optimize", "visit", "testdata", from))
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, name), data, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	command(t, "visit", folder, "--add", "--values", "date = 2026-03-02; done = 'seated'; spring = 'spring.toml'")
	printed := command(t, "visit", folder, "--add", "--values", "date = 2026-04-13; done = 'left as it is'; now.along_mm = 12.4; now.occlusal_mm = 1.1; now.buccal_mm = 0")

	address, _ := served(t, folder)
	p := deskPage(t, address)
	p.until(`window.desk.file === "case.toml"`)
	p.click("go-visits")
	p.until(`document.getElementById("advice") !== null`)
	if advice := value[string](p, `document.getElementById("advice").textContent`); !strings.Contains(printed, "\n"+advice+"\n") {
		t.Errorf("the page says %q, the command\n%s", advice, printed)
	}
	for _, line := range value[[]string](p, `window.desk.visits.told.lines`) {
		if !strings.Contains(printed, line) {
			t.Errorf("the page tells what the command does not: %q", line)
		}
	}
	if rows := value[int](p, `document.querySelectorAll("#visits-0 tbody tr").length`); rows != 2 {
		t.Errorf("%d visits are shown", rows)
	}
	if size := value[[]float64](p, `(async () => { const i = document.querySelector("img.page"); await i.decode(); return [i.naturalWidth, i.naturalHeight]; })()`); size[0] < 100 {
		t.Errorf("the time line has %v pixels", size)
	}
	if *picturesDir != "" {
		p.picture(filepath.Join(*picturesDir, "visits-1280.png"), true)
	}
	p.click("new-case")
	p.until(`window.desk.file.startsWith("case-") && window.desk.step === "measure"`)
	if value[bool](p, `document.getElementById("go-visits") !== null`) {
		t.Error("a case without a history has a step of its visits")
	}
}
