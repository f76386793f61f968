package desk

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"springwright/design/casefile"
	"springwright/design/designtest"
	"springwright/export"
	"springwright/presets"
)

// askedBudget is how long a page waits for an answer before it is closed, askedPatience how long the answer may then
// still take: one solve, on a machine that does other things and with the fuzzer's counters built in (choice).
const (
	askedBudget   = 150 * time.Millisecond
	askedPatience = 30 * time.Second
)

// FuzzAPI asks any endpoint anything.
//
// ask is a method and an address with its query. In a body of JSON @text and @spring stand for the two files; that of a
// form is made of lines NAME=VALUE, or NAME=@text for a file.
func FuzzAPI(f *testing.F) {
	seeds, text, spring := questions(f)
	for _, seed := range seeds {
		f.Add(seed[0], seed[1], text, spring)
	}
	f.Fuzz(checkAsked)
}

// TestSpoiltQuestions asks with slips made in what is asked, and in the files of it.
func TestSpoiltQuestions(t *testing.T) {
	seeds, text, spring := questions(t)
	for i := range *spoiltQuestions {
		r := rand.New(rand.NewPCG(21, uint64(i)))
		seed := seeds[r.IntN(len(seeds))]
		spoil := func(text []byte) []byte {
			if r.IntN(3) > 0 {
				return text
			}
			return designtest.Spoil(r, text)
		}
		ask, body, text, spring := string(spoil([]byte(seed[0]))), string(spoil([]byte(seed[1]))), spoil(text), spoil(spring)
		t.Run(strconv.Itoa(i), func(t *testing.T) { checkAsked(t, ask, body, text, spring) })
	}
}

var spoiltQuestions = flag.Int("spoiltquestions", 50, "how many questions slips are made in")

// questions are one of each endpoint, with a case and a spring.
func questions(t testing.TB) (asked [][2]string, text, spring []byte) {
	demo, _, err := presets.Case(presets.Demo)
	if err != nil {
		t.Fatal(err)
	}
	var a api
	c, err := a.cases.get(string(demo))
	if err != nil {
		t.Fatal(err)
	}
	spring = casefile.WriteSpring(c.SeatedSpring(demoSpring()))
	const both = `"text": "@text", "spring": "@spring", "lang": "pt"`
	return [][2]string{
		{"GET /api/v1/start?lang=es", ""},
		{"GET /api/v1/new", ""},
		{"GET /api/v1/files/case.toml", ""},
		{"GET /api/v1/files/t-loop.toml", ""},
		{"PUT /api/v1/files/new.toml", `{"text": "@text"}`},
		{"PUT /api/v1/files/case.toml", `{"text": "@text"}`},
		{"POST /api/v1/form", `{"text": "@text", "set": [{"key": "now.along_mm", "value": "12,5"}], "senses": {"target.start.intrusive_n": "target.start.extrusive_n"}, "lang": "en"}`},
		{"POST /api/v1/search", `{"text": "@text", "lang": "en"}`},
		{"POST /api/v1/stop", `{}`},
		{"POST /api/v1/live", `{` + both + `, "values": [1.5, 27, 4, 73, 4.5, -103, 8.5, -83, 7.5, -130, 1, 36, 1], "here": 2}`},
		{"POST /api/v1/live", `{` + both + `, "values": [1e300], "here": -7}`},
		{"POST /api/v1/report", `{` + both + `}`},
		{"POST /api/v1/sheet", `{` + both + `, "paper": "a4", "across": "99.2", "up": "100"}`},
		{"POST /api/v1/measuring", `{"lang": "en", "paper": "letter", "across": "99,2", "up": ""}`},
		{"POST /api/v1/bent", `{` + both + `}`},
		{"POST /api/v1/picture", "spring=@spring\nlang=en\npicture=@text"},
		{"POST /api/v1/adjust", `{` + both + `, "measured": {"bend_1_deg": "30"}, "seen": [{"step": 1, "value": 0.5, "sd": 0.01}], "so_far": false}`},
		{"POST /api/v1/adjusted/sheet", `{` + both + `, "measured": {"bend_1_deg": "30"}, "paper": "a4", "across": "", "up": ""}`},
		{"POST /api/v1/adjusted/files", `{` + both + `, "measured": {"straight_1_mm": "2,5"}, "name": "case.toml"}`},
		{"POST /api/v1/visits", `{"lang": "en"}`},
		{"POST /api/v1/jig", `{` + both + `, "clearance": "0.1"}`},
		{"GET /api/v1/places?lang=en", ""},
		{"GET /api/v1/orders/blank?lang=pt", ""},
		{"POST /api/v1/orders/check", `{"name": "a.csv", "data": "b3JkZXI7cHJlc2V0CkEtMTtkZW1vCg==", "lang": "en"}`},
		{"POST /api/v1/orders/make", `{"name": "orders.csv", "folder": "made", "anyway": true, "lang": "en", "paper": "a4", "across": "", "up": ""}`},
		{"POST /api/v1/class/make", `{"preset": "demo", "students": 1, "seed": 1, "bands": "A:2/1", "lang": "en", "paper": "a4"}`},
		{"POST /api/v1/class/mark", "class=a\nbands=A:2/1\nlang=en\npaper=a4\nhanded=@text"},
		{"GET /api/v1/made/mine/template.pdf", ""},
		{"GET /api/v1/events", ""},
		{"GET /", ""},
	}, demo, spring
}

// checkAsked asks a desk. It never panics nor blames the server, it answers soon, JSON is JSON, and what stands in the
// folder of the cases stays.
func checkAsked(t *testing.T, ask, body string, text, spring []byte) {
	method, address, _ := strings.Cut(ask, " ")
	payload, kind := body, "application/json"
	if path, _, _ := strings.Cut(address, "?"); path == picturePath || path == markPath {
		payload, kind = formed(body, text, spring)
	} else {
		payload = strings.NewReplacer(`"@text"`, quoted(t, text), `"@spring"`, quoted(t, spring)).Replace(body)
	}
	r, err := http.NewRequest(method, "http://127.0.0.1"+address, strings.NewReader(payload))
	if err != nil || r.URL.Host != "127.0.0.1" {
		t.Skip("no request that a server is handed")
	}
	r.Header.Set("Content-Type", kind)
	r.Header.Set("If-Match", `""`)

	base := t.TempDir()
	dir := filepath.Join(base, "cases")
	stands := map[string][]byte{"case.toml": text, "spring.toml": spring, "visits.toml": spring, "orders.csv": []byte("order;preset\nA-1;demo\n"), "mine/template.pdf": text}
	for name, data := range stands {
		if err := errorOf(os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o777), os.WriteFile(filepath.Join(dir, name), data, 0o666)); err != nil {
			t.Fatal(err)
		}
	}
	w := answered(t, dir, r)
	checkAnswer(t, ask, w)
	for name, data := range stands {
		if now, err := os.ReadFile(filepath.Join(dir, name)); err != nil || !bytes.Equal(now, data) {
			t.Errorf("%s: %s was changed: %v", ask, name, err)
		}
	}
	if entries, err := os.ReadDir(base); err != nil || len(entries) != 1 {
		t.Errorf("%s: beside the folder: %v, %v", ask, entries, err)
	}
	if parts, _ := filepath.Glob(filepath.Join(dir, ".*.part")); len(parts) > 0 {
		t.Errorf("%s: half-written: %v", ask, parts)
	}
}

func errorOf(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func quoted(t *testing.T, text []byte) string {
	t.Helper()
	out, err := json.Marshal(string(text))
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// formed is a form as a page sends it.
func formed(lines string, text, spring []byte) (body, kind string) {
	var out bytes.Buffer
	form := multipart.NewWriter(&out)
	for line := range strings.SplitSeq(lines, "\n") {
		name, value, _ := strings.Cut(line, "=")
		switch value {
		case "@text":
			if part, err := form.CreateFormFile(name, "a.png"); err == nil {
				_, _ = part.Write(text)
			}
		case "@spring":
			_ = form.WriteField(name, string(spring))
		default:
			_ = form.WriteField(name, value)
		}
	}
	_ = form.Close()
	return out.String(), form.FormDataContentType()
}

// answered has a desk of the folder answer a request, whose page is closed soon.
func answered(t *testing.T, dir string, r *http.Request) *httptest.ResponseRecorder {
	t.Helper()
	root, err := os.OpenRoot(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer root.Close()
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	defer time.AfterFunc(askedBudget, cancel).Stop()
	hung := time.AfterFunc(askedPatience, func() { panic(fmt.Sprint("no end of ", r.Method, " ", r.URL)) })
	defer hung.Stop()
	w := httptest.NewRecorder()
	handler := newAPI(t.Context(), Options{Folder: dir, Version: "0", Keeper: plainKeeper()}, &folder{root: root}, newPresence(time.Hour, func() {}))
	handler.ServeHTTP(w, r.WithContext(ctx))
	return w
}

// plainKeeper writes an order's spring and nothing else.
func plainKeeper() Keeper {
	write := func(_ context.Context, dir string, files []export.File) error {
		if err := os.MkdirAll(dir, 0o777); err != nil {
			return err
		}
		for _, file := range files {
			if err := os.WriteFile(filepath.Join(dir, file.Name), file.Data, 0o666); err != nil {
				return err
			}
		}
		return nil
	}
	return Keeper{
		Program: "springwright 0", Imprint: func() string { return "0" }, Write: write,
		Render: func(job export.Job) ([]export.File, error) {
			return []export.File{{Name: "spring.toml", Data: casefile.WriteSpring(job.Report.Spring)}}, nil
		},
		Standing: func(string) (bool, []string) { return false, nil },
		Papers: func(_ context.Context, dir string) (func(context.Context, []export.File) error, error) {
			return func(ctx context.Context, files []export.File) error { return write(ctx, dir, files) }, nil
		},
	}
}

// checkAnswer holds what every answer is.
func checkAnswer(t *testing.T, ask string, w *httptest.ResponseRecorder) {
	t.Helper()
	if w.Code >= http.StatusInternalServerError {
		t.Errorf("%s: status %d: %s", ask, w.Code, w.Body)
	}
	lines := [][]byte{w.Body.Bytes()}
	switch kind, _, _ := strings.Cut(w.Header().Get("Content-Type"), ";"); kind {
	case "application/json":
	case "application/x-ndjson":
		lines = bytes.Split(bytes.TrimSuffix(w.Body.Bytes(), []byte("\n")), []byte("\n"))
		if w.Body.Len() == 0 { // the page was closed before there was anything to tell
			lines = nil
		}
	default:
		lines = nil
	}
	for _, line := range lines {
		if !json.Valid(line) {
			t.Errorf("%s: no JSON: %s", ask, line)
		}
	}
}
