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
	t.Setenv("SOURCE_DATE_EPOCH", "1767225600")
	address, _ := served(t, t.TempDir())
	p := page{t, browser(t)}
	p.do("opening", chromedp.Navigate(address))
	p.until(`document.querySelector("#f-title") !== null`)
	p.do("the search", chromedp.Click("#go-result"))
	if value[bool](p, `document.querySelector(".headline") === null`) {
		p.do("the search", chromedp.Click("#search"))
	}
	p.until(`document.querySelector(".headline") !== null && document.querySelector("#about h3") !== null`)
	for _, size := range [][2]int64{{1024, 768}, {1280, 900}, {1800, 1000}, {820, 1180}} {
		p.do("size", chromedp.EmulateViewport(size[0], size[1]))
		for _, step := range []string{"measure", "want", "kind", "result", "sheet"} {
			p.do(step, chromedp.Click("#go-"+step))
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
