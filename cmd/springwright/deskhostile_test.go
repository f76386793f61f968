package main

import (
	"bytes"
	"mime/multipart"
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
	elsewhere := t.TempDir()
	if err := os.WriteFile(filepath.Join(elsewhere, "template.pdf"), []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(elsewhere, filepath.Join(folder, "link")); err != nil {
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
		{"a plate of nothing", "jig", `{"text": "", "spring": ""}`, http.StatusUnprocessableEntity},
		{"orders of a list outside", "orders/make", `{"name": "../secret.csv", "folder": "a", "lang": "en"}`, http.StatusUnprocessableEntity},
		{"orders into a folder outside", "orders/make", `{"name": "a.csv", "data": "", "folder": "../a", "lang": "en"}`, http.StatusBadRequest},
		{"orders into the folder itself", "orders/make", `{"name": "a.csv", "data": "", "folder": ".", "lang": "en"}`, http.StatusBadRequest},
		{"orders into nothing", "orders/make", `{"name": "a.csv", "data": "", "folder": "", "lang": "en"}`, http.StatusBadRequest},
		{"a list with an unknown key", "orders/check", `{"nane": "a.csv"}`, http.StatusBadRequest},
		{"a class of a case outside", "class/make", `{"case": "../secret.toml", "students": 1, "lang": "en"}`, http.StatusNotFound},
		{"a class of no preset", "class/make", `{"preset": "../demo", "students": 1, "lang": "en"}`, http.StatusNotFound},
		{"a class of far too many", "class/make", `{"preset": "demo", "students": 100000, "lang": "en"}`, http.StatusUnprocessableEntity},
		{"marks that are no form", "class/mark", `{}`, http.StatusBadRequest},
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
	for _, path := range []string{"../secret.toml", "..%2Fsecret.toml", "secret.toml", "a/secret.toml", "a/../../template.pdf", "%2e%2e/template.pdf", "a/b/c/template.pdf", ".a/template.pdf", "a//template.pdf", "a/order.json", `a\..\template.pdf`, "a/template.pdf%00", "link/template.pdf"} {
		if got := ask("GET", "/api/v1/made/"+path, query, nil); got != http.StatusNotFound && got != http.StatusTemporaryRedirect && got != http.StatusBadRequest {
			t.Errorf("a paper at %s: status %d", path, got)
		}
	}
	if got := ask("GET", "/api/v1/made/a/template.pdf", "", nil); got != http.StatusForbidden {
		t.Errorf("a paper without the token: status %d", got)
	}
	marks := func(class, name, text string) int {
		t.Helper()
		var body bytes.Buffer
		form := multipart.NewWriter(&body)
		_ = form.WriteField("class", class)
		_ = form.WriteField("lang", "en")
		part, err := form.CreateFormFile("handed", name)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = part.Write([]byte(text))
		_ = form.Close()
		return ask("POST", "/api/v1/class/mark", query, body.Bytes(), func(r *http.Request) { r.Header.Set("Content-Type", form.FormDataContentType()) })
	}
	if got := marks("../a", "a.csv", "x"); got != http.StatusBadRequest {
		t.Errorf("marks of a class outside: status %d", got)
	}
	if got := marks("a", "a.csv", strings.Repeat("x", 1<<19)); got != http.StatusUnprocessableEntity {
		t.Errorf("a table of half a megabyte: status %d", got)
	}
	if got := marks("a", "../../secret.png", "x"); got != http.StatusOK { // the answer's last line says that there is no class
		t.Errorf("a picture with a path for a name: status %d", got)
	}
	if got := ask("POST", "/api/v1/orders/check", query, bytes.Repeat([]byte("x"), 14<<20)); got != http.StatusRequestEntityTooLarge && got != http.StatusBadRequest && got != 0 {
		t.Errorf("14 MB of orders: status %d, want a refusal", got)
	}
	if err := os.Remove(filepath.Join(folder, "link")); err != nil {
		t.Fatal(err)
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
