package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

var picturesDir = flag.String("pictures", "", "`FOLDER` into which TestDeskPictures puts a picture of every step, in three widths and as a tablet")

// TestDeskPictures takes the pictures that are to be looked at before a change of the page is
// taken: go test ./cmd/springwright -run DeskPictures -args -pictures FOLDER
func TestDeskPictures(t *testing.T) {
	if *picturesDir == "" {
		t.Skip("pictures are taken on request: -args -pictures FOLDER")
	}
	address, _ := served(t, t.TempDir())
	p := deskPage(t, address)
	p.until(`document.getElementById("best") !== null || window.desk.search === null`)
	p.picture(filepath.Join(*picturesDir, "searching-1280.png"), false)
	p.designed()
	p.until(`document.querySelectorAll(".charts .hand:not([hidden])").length >= 4`)
	for _, size := range [][2]int64{{1024, 768}, {1280, 900}, {1800, 1000}, {820, 1180}} {
		p.do("size", chromedp.EmulateViewport(size[0], size[1]))
		for _, step := range []string{"measure", "want", "kind", "result", "sheet", "bent"} {
			p.opened(step)
			time.Sleep(400 * time.Millisecond) // what the page still draws
			for _, whole := range []bool{false, true} {
				name := fmt.Sprintf("%s-%d.png", step, size[0])
				if whole {
					name = fmt.Sprintf("%s-%d-whole.png", step, size[0])
				}
				p.picture(filepath.Join(*picturesDir, name), whole)
			}
		}
	}
	// A case that cannot be met, one that is not filled in, and a message.
	p.do("size", chromedp.EmulateViewport(1280, 900))
	p.click("go-kind")
	value[bool](p, `[...document.querySelectorAll("details")].every(d => (d.open = true))`)
	p.typed("f-limits\\.largest_pre_bend_deg", "0.1")
	p.click("go-result")
	p.click("search")
	p.until(`window.desk.search === null && window.desk.ways !== null`)
	p.picture(filepath.Join(*picturesDir, "unmet-1280-whole.png"), true)
	p.click("new-case")
	p.until(`!document.getElementById("message").hidden`)
	p.picture(filepath.Join(*picturesDir, "message-1280.png"), false)
	value[bool](p, `(document.querySelectorAll("#message button")[1].click(), true)`)
	p.until(`document.querySelector("#f-case")?.value === "case-1"`)
	p.picture(filepath.Join(*picturesDir, "empty-1280-whole.png"), true)
	p.click("go-result")
	p.picture(filepath.Join(*picturesDir, "faults-1280.png"), false)
}

// picture puts what the window shows, or the whole page, into a file.
func (p page) picture(file string, whole bool) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, time.Minute)
	defer cancel()
	take := chromedp.CaptureScreenshot()
	if whole {
		take = chromedp.FullScreenshot(100)
	}
	image, err := chromedp.Run(ctx, take)
	if err == nil {
		err = os.WriteFile(file, image, 0o644)
	}
	if err != nil {
		p.t.Fatal(err)
	}
}
