package desk

import (
	"net/http"
	"net/http/cookiejar"
	"testing"
	"time"
)

// TestServeEndsWhenNobodyIsThere: a server goes on as long as a page is open, and ends some time after the
// last one is closed.
func TestServeEndsWhenNobodyIsThere(t *testing.T) {
	const idle = 300 * time.Millisecond
	opened, done := make(chan string, 1), make(chan error, 1)
	go func() {
		done <- Serve(t.Context(), Options{Folder: t.TempDir(), IdleAfter: idle, Opened: func(address string) error { opened <- address; return nil }})
	}()
	address := <-opened
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	client := &http.Client{Jar: jar}
	first, err := client.Get(address)
	if err != nil || first.StatusCode != http.StatusOK {
		t.Fatalf("%v, %v", first, err)
	}
	first.Body.Close()
	page, err := client.Get(first.Request.URL.String() + "api/v1/events")
	if err != nil || page.StatusCode != http.StatusOK {
		t.Fatalf("%v, %v", page, err)
	}
	select {
	case err := <-done:
		t.Fatalf("ends with a page open: %v", err)
	case <-time.After(3 * idle):
	}
	page.Body.Close()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(20 * time.Second): // the beat of the page's events is 15 s
		t.Error("goes on with no page open")
	}
}
