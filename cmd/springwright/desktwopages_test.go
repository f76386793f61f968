package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestDeskTwoPages: who saves second is told, nothing is overwritten, and nothing is lost.
func TestDeskTwoPages(t *testing.T) {
	folder := t.TempDir()
	seatedDemo(t, folder, "demo.toml", tied, tied)
	address, _ := served(t, folder)
	first := searched(t, address)
	first.click("save-case")
	first.until(`document.getElementById("saved").textContent === "saved"`)
	second := deskPage(t, address)
	second.click("go-measure")
	second.typed("f-title", "theirs")
	second.click("save-case")
	second.until(`document.getElementById("saved").textContent === "saved"`)
	first.click("go-measure")
	first.typed("f-title", "mine")
	first.click("save-case")
	first.until(`!document.getElementById("message").hidden`)
	read := func(name string) []byte {
		text, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	if text := read("demo.toml"); !bytes.Contains(text, []byte(`title = "theirs"`)) {
		t.Errorf("the file holds not what was saved first:\n%s", text)
	}
	first.do("keeping mine", chromedp.Click(`#message button.main`))
	first.until(`document.getElementById("saved").textContent === "saved"`)
	if text := read("case-1.toml"); !bytes.Contains(text, []byte(`title = "mine"`)) {
		t.Errorf("the new case holds\n%s", text)
	}
	if text := read("demo.toml"); !bytes.Contains(text, []byte(`title = "theirs"`)) {
		t.Errorf("the first file holds then\n%s", text)
	}

	// A search of one page keeps the other from one of its own, which is told.
	second.click("go-result")
	first.click("go-result")
	first.do("a search", chromedp.Click("#search"))
	first.until(`window.desk.search !== null`)
	status := value[int](second, `(async () => (await fetch("api/v1/search", { method: "POST", body: JSON.stringify({ text: window.desk.text, lang: "en" }) })).status)()`)
	if status != 409 && value[bool](first, `window.desk.search !== null`) {
		t.Errorf("a second search is answered by %d", status)
	}
	first.designed()
}
