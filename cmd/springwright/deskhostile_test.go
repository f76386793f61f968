package main

import (
	"bytes"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

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
	ask := func(method, path, cookie string, body []byte, change ...func(*http.Request)) int {
		t.Helper()
		r, err := http.NewRequest(method, base+path, bytes.NewReader(body))
		if err != nil {
			t.Fatal(err)
		}
		if cookie != "" {
			r.Header.Set("Cookie", "springwright-"+base[strings.LastIndex(base, ":")+1:]+"="+cookie)
		}
		r.Header.Set("Content-Type", "application/json")
		for _, f := range change {
			f(r)
		}
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
	form := []byte(`{"text": "", "set": [], "senses": {}, "lang": "en"}`)
	for _, c := range []struct {
		what   string
		change func(*http.Request)
		want   int
	}{
		{"the page itself", func(*http.Request) {}, http.StatusOK},
		{"a name that was pointed here", func(r *http.Request) { r.Host = "desk.example" }, http.StatusMisdirectedRequest},
		{"another site", func(r *http.Request) { r.Header.Set("Origin", "https://desk.example") }, http.StatusForbidden},
		{"a page without an origin", func(r *http.Request) { r.Header.Set("Origin", "null") }, http.StatusForbidden},
		{"a form of another site", func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") }, http.StatusForbidden},
	} {
		if got := ask("POST", "/api/v1/form", query, form, c.change); got != c.want {
			t.Errorf("%s: status %d, want %d", c.what, got, c.want)
		}
	}
	for _, c := range []struct {
		what, path, body string
		want             int
	}{
		{"readings of no spring", "adjust", `{"text": "", "spring": "", "measured": {}}`, http.StatusUnprocessableEntity},
		{"readings that are no texts", "adjust", `{"text": "", "spring": "", "measured": {"bend_1_deg": 3}}`, http.StatusBadRequest},
		{"a file out of the folder", "adjusted/files", `{"text": "", "spring": "", "lang": "en", "name": "../a.toml"}`, http.StatusBadRequest},
		{"nothing to measure", "bent", `{"text": "", "spring": ""}`, http.StatusUnprocessableEntity},
		{"a picture that is no form", "picture", `{}`, http.StatusBadRequest},
	} {
		if got := ask("POST", "/api/v1/"+c.path, query, []byte(c.body)); got != c.want {
			t.Errorf("%s: status %d, want %d", c.what, got, c.want)
		}
		if got := ask("POST", "/api/v1/"+c.path, "", []byte(c.body)); got != http.StatusForbidden {
			t.Errorf("%s, without the token: status %d", c.what, got)
		}
		if got := ask("POST", "/api/v1/"+c.path, query, []byte(c.body), func(r *http.Request) { r.Header.Set("Origin", "https://desk.example") }); got != http.StatusForbidden {
			t.Errorf("%s, of another site: status %d", c.what, got)
		}
	}
	if got := ask("POST", "/api/v1/adjust", query, bytes.Repeat([]byte("x"), 2<<20)); got != http.StatusRequestEntityTooLarge && got != http.StatusBadRequest && got != 0 {
		t.Errorf("2 MB of readings: status %d, want a refusal", got)
	}
	if got := ask("POST", "/api/v1/form", query, bytes.Repeat([]byte("x"), 100<<20)); got != http.StatusRequestEntityTooLarge && got != http.StatusBadRequest && got != 0 {
		t.Errorf("100 MB: status %d, want a refusal", got)
	}
	if entries, _ := os.ReadDir(folder); len(entries) != 0 {
		t.Errorf("written: %v", entries)
	}
}
