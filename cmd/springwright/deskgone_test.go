package main

import (
	"bufio"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	browserdomain "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/chromedp"
)

// deskProcess is a desk of its own process, which can be killed.
func deskProcess(t *testing.T, folder string) (address string, process *exec.Cmd) {
	t.Helper()
	command := exec.Command("springwright", "desk", "--no-open", folder)
	out, err := command.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = command.Process.Kill(); _ = command.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(line), command
}

// TestDeskKilledInASearch: the page says that the server is gone and keeps what is not saved; what is
// saved is whole, and another server goes on from it.
func TestDeskKilledInASearch(t *testing.T) {
	if testing.Short() {
		t.Skip("a browser takes some seconds")
	}
	folder := t.TempDir()
	seatedDemo(t, folder, "demo.toml", tied, tied)
	address, process := deskProcess(t, folder)
	p := searched(t, address)
	p.click("save-case")
	p.until(`document.getElementById("saved").textContent === "saved"`)
	p.click("go-measure")
	p.typed("f-title", "not saved")
	p.click("go-result")
	p.click("search")
	p.until(`window.desk.search !== null && window.desk.search.share > 0`)
	if err := process.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	_ = process.Wait()
	p.until(`!document.getElementById("message").hidden`)
	text := value[string](p, `document.getElementById("message").innerText`)
	if !strings.Contains(text, "start it again") {
		t.Errorf("the page says %q", text)
	}
	downloads := t.TempDir()
	p.do("keeping the case", chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, browserdomain.SetDownloadBehavior, browserdomain.SetDownloadBehaviorParams{Behavior: browserdomain.SetDownloadBehaviorBehaviorAllow, BrowserContextID: chromedp.FromContext(p.ctx).BrowserContextID, DownloadPath: downloads})
		return err
	}))
	p.click("keep")
	var kept []byte
	for range 100 {
		var err error
		if kept, err = os.ReadFile(filepath.Join(downloads, "demo.toml")); err == nil && len(kept) > 0 {
			break
		}
		time.Sleep(50 * time.Millisecond)
	}
	if !strings.Contains(string(kept), `title = "not saved"`) {
		t.Errorf("kept is\n%s", kept)
	}
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			t.Errorf("left behind: %s", e.Name())
		}
	}
	address, _ = deskProcess(t, folder)
	again := deskPage(t, address)
	again.until(`document.querySelector(".headline") !== null`)
	if name := value[string](again, `window.desk.file`); name != "demo.toml" {
		t.Errorf("another server opens %q", name)
	}
}

// TestDoubleClick starts the program as a desktop does: no arguments, no terminal. It opens a browser
// on a folder of its own and ends when it is told to.
func TestDoubleClick(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the desktop of this test is that of Linux")
	}
	home, programs := t.TempDir(), t.TempDir()
	told := filepath.Join(home, "told")
	script := "#!/bin/sh\necho \"$1\" > \"" + told + ".part\" && mv \"" + told + ".part\" \"" + told + "\"\n"
	if err := os.WriteFile(filepath.Join(programs, "xdg-open"), []byte(script), 0o755); err != nil {
		t.Fatal(err)
	}
	command := exec.Command("springwright") // with the null device as all three files
	command.Env = append(os.Environ(), "HOME="+home, "DISPLAY=:77", "PATH="+programs+string(os.PathListSeparator)+os.Getenv("PATH"))
	if err := command.Start(); err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- command.Wait() }()
	var address string
	for range 100 {
		text, err := os.ReadFile(told)
		if err == nil {
			address = strings.TrimSpace(string(text))
			break
		}
		time.Sleep(100 * time.Millisecond)
	}
	if !strings.HasPrefix(address, "http://127.0.0.1:") || !strings.Contains(address, "token=") {
		_ = command.Process.Kill()
		t.Fatalf("the browser was given %q", address)
	}
	if info, err := os.Stat(filepath.Join(home, "springwright")); err != nil || !info.IsDir() {
		t.Errorf("the folder for the cases: %v, %v", info, err)
	}
	if err := command.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	select {
	case err := <-ended:
		if err != nil {
			t.Errorf("interrupted it ends with %v", err)
		}
	case <-time.After(20 * time.Second):
		_ = command.Process.Kill()
		t.Error("interrupted it goes on")
	}
}

// TestDeskLoadedAnewInASearch: a page that is loaded anew while it searches searches again at once: the
// server does not take the page that is gone for another one.
func TestDeskLoadedAnewInASearch(t *testing.T) {
	address, _ := served(t, t.TempDir())
	p := deskPage(t, address)
	for range 3 {
		p.until(`window.desk.search !== null`)
		p.do("again", chromedp.Reload())
		p.until(`window.desk?.form !== null && document.querySelector("#go-measure") !== null`)
	}
	p.designed()
	if message := value[string](p, `document.getElementById("message").hidden ? "" : document.getElementById("message").innerText`); message != "" {
		t.Errorf("the page says %q", message)
	}
}
