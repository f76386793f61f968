package desk

import (
	"context"
	"embed"
	"encoding/json"
	"errors"
	"io/fs"
	"net/http"
	"sync"
	"time"
	"unicode/utf8"

	"springwright/design/fault"
	"springwright/export/words"
)

//go:embed page
var page embed.FS

// api answers the page. All bodies are JSON in UTF-8, format springwright-desk version 1; keys
// are added in later versions, never changed.
//
//	GET  /api/v1/start?lang=    words, languages, cases of the folder, kinds of springs
//	GET  /api/v1/new            an empty case and a free name for it
//	GET  /api/v1/files/NAME     a file's text, its tag, and the spring beside it
//	PUT  /api/v1/files/NAME     {text}, header If-Match "TAG" ("" for a new file): {tag}
//	POST /api/v1/form           {text, set, senses, lang}: the case with keys set, its fields, faults, drawing
//	POST /api/v1/search         {text, lang}: lines of JSON: {share, text, best} now and then, then what was
//	                            found, and where the target is missed {ways}
//	POST /api/v1/stop           {}: ends the search under way, which answers with the best so far
//	POST /api/v1/live           {text, spring, values, here, lang}: loads, verdicts, drawing, in milliseconds
//	POST /api/v1/report         {text, spring, lang}: what takes longer: warnings, both teeth, drift
//	POST /api/v1/sheet          {text, spring, lang, paper, across, up}: the PDF of the command "design"
//	POST /api/v1/measuring      {lang, paper, across, up}: the measuring sheet as PDF
//	POST /api/v1/bent           {text, spring, lang}: what can be measured of the spring once it is bent, drawn
//	POST /api/v1/picture        a form of spring, lang and, last, picture (PNG, JPEG): what
//	                            it tells of the spring's steps, and a picture of what was read
//	POST /api/v1/adjust         {text, spring, lang, measured, seen, so_far}: what came out, will do, and what to
//	                            correct, in words and drawn; measured by the keys of a file of readings, seen
//	                            as the picture told
//	POST /api/v1/adjusted/sheet the same and {paper, across, up}: the PDF of the command "adjust"
//	POST /api/v1/adjusted/files the same and {name}: its files, written into a new folder beside the cases
//	POST /api/v1/visits         {lang}: of a case folder, what "visit" tells, and its page as SVG
//	POST /api/v1/jig            {text, spring, lang, clearance}: the STL of the command "jig", and what is told of it
//	GET  /api/v1/places?lang=   order lists, cases and classes of the folder, cases of the program
//	GET  /api/v1/orders/blank?lang=  an order list to begin with
//	POST /api/v1/orders/check   {name, data, lang}: what is wrong with a list, by row and cell; data is that of a file
//	                            that was dropped, without it NAME is of the folder, without a name it is the cases there
//	POST /api/v1/orders/make    the same and {folder, anyway, paper, across, up}: lines of JSON: {done, total, text} now
//	                            and then, {order} for each that is done, then {day}, as "batch" makes it
//	POST /api/v1/class/make     {case, preset, students, seed, bands, lang, paper, across, up}: {done, total, text}, then
//	                            {class}, as "handout" makes it into a new folder
//	POST /api/v1/class/mark     a form of class, bands, lang, paper, across, up and, last, handed (pictures, or a table):
//	                            {done, total, text}, then {marks}, as "mark" does
//	GET  /api/v1/made/FOLDER/…  a paper of those folders
//	GET  /api/v1/events         an event stream that is open as long as the page is
//
// An error is {error, hint, faults} with a status of 400 (the request), 404, 409 (there already, or
// another search is under way), 412 (changed by somebody else), 413 (too large), 422 (the case or the
// spring), 428 (a file without the version that was read) or 500.
type api struct {
	ctx      context.Context // of the server
	options  Options
	folder   *folder
	here     *presence
	cases    caseCache
	found    found
	searches sync.Mutex // one at a time: a search uses every core
	running  running
	pictures sync.Mutex // one is read at a time: it takes a few hundred megabytes
	adjusted adjustments
}

func newAPI(ctx context.Context, o Options, f *folder, here *presence) http.Handler {
	a := &api{ctx: ctx, options: o, folder: f, here: here}
	files, err := fs.Sub(page, "page")
	if err != nil {
		panic(err) // the folder is embedded above
	}
	mux := http.NewServeMux()
	mux.Handle("GET /", pageFiles(files))
	mux.HandleFunc("GET /api/v1/start", a.start)
	mux.HandleFunc("GET /api/v1/new", a.fresh)
	mux.HandleFunc("GET /api/v1/files/{name}", a.read)
	mux.HandleFunc("PUT /api/v1/files/{name}", a.write)
	mux.HandleFunc("POST /api/v1/form", a.form)
	mux.HandleFunc("POST /api/v1/search", a.search)
	mux.HandleFunc("POST /api/v1/stop", a.stopSearch)
	mux.HandleFunc("POST /api/v1/live", a.live)
	mux.HandleFunc("POST /api/v1/report", a.report)
	mux.HandleFunc("POST /api/v1/sheet", a.sheet)
	mux.HandleFunc("POST /api/v1/measuring", a.measuring)
	mux.HandleFunc("POST /api/v1/bent", a.bent)
	mux.HandleFunc("POST "+picturePath, a.picture)
	mux.HandleFunc("POST /api/v1/adjust", a.adjust)
	mux.HandleFunc("POST /api/v1/adjusted/sheet", a.adjustedSheet)
	mux.HandleFunc("POST /api/v1/adjusted/files", a.adjustedFiles)
	mux.HandleFunc("POST /api/v1/visits", a.visits)
	mux.HandleFunc("POST /api/v1/jig", a.jig)
	mux.HandleFunc("GET /api/v1/places", a.places)
	mux.HandleFunc("GET /api/v1/orders/blank", a.blankOrders)
	mux.HandleFunc("POST "+ordersPath+"check", a.checkOrders)
	mux.HandleFunc("POST "+ordersPath+"make", a.makeOrders)
	mux.HandleFunc("POST /api/v1/class/make", a.makeClass)
	mux.HandleFunc("POST "+markPath, a.markClass)
	mux.HandleFunc("GET /api/v1/made/{path...}", a.made)
	mux.HandleFunc("GET /api/v1/events", a.events)
	return mux
}

// pageFiles serves the page. A name that no file can have is one that is not there; package http would blame the server.
func pageFiles(files fs.FS) http.Handler {
	serve := http.FileServerFS(files)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !utf8.ValidString(r.URL.Path) {
			http.NotFound(w, r)
			return
		}
		serve.ServeHTTP(w, r)
	})
}

func answer(w http.ResponseWriter, status int, body any) {
	text, err := json.Marshal(body)
	if err != nil { // a number that is not finite: nothing of it goes out
		status, text = http.StatusInternalServerError, []byte(`{"error":"the answer cannot be written"}`)
	}
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	w.WriteHeader(status)
	w.Write(text)
}

// failed is an answer that says what is wrong.
type failed struct {
	Error  string      `json:"error"`
	Hint   string      `json:"hint,omitempty"`
	Faults []faultJSON `json:"faults,omitempty"`
}

type faultJSON struct {
	Key    string `json:"key"`
	Text   string `json:"text"`
	Hint   string `json:"hint,omitempty"`
	Line   int    `json:"line,omitempty"`
	Column int    `json:"column,omitempty"`
	Step   string `json:"step,omitempty"` // of the page, where it is shown; "" where no field is
	Label  string `json:"label,omitempty"`
}

func faultsOf(err error) []faultJSON {
	var list fault.List
	if !errors.As(err, &list) {
		return nil
	}
	out := make([]faultJSON, len(list))
	for i, f := range list {
		out[i] = faultJSON{Key: f.Key, Text: f.Text, Hint: f.Hint, Line: f.Line, Column: f.Column}
	}
	return out
}

func refuse(w http.ResponseWriter, status int, err error, hint string) {
	text := err.Error()
	faults := faultsOf(err)
	if faults != nil {
		text = "the case has faults"
	}
	answer(w, status, failed{text, hint, faults})
}

// request reads the body of a request into v and tells whether it could.
func request[T any](w http.ResponseWriter, r *http.Request) (v T, ok bool) {
	d := json.NewDecoder(r.Body)
	d.DisallowUnknownFields()
	if err := d.Decode(&v); err != nil {
		status := http.StatusBadRequest
		var large *http.MaxBytesError
		if errors.As(err, &large) {
			status = http.StatusRequestEntityTooLarge
		}
		refuse(w, status, errors.New("the request cannot be read: "+err.Error()), "")
		return v, false
	}
	return v, true
}

// book is the language that a request asks for; English for one that is unknown.
func book(lang string) *words.Book {
	l, err := words.Parse(lang)
	if err != nil {
		l = words.English
	}
	return words.NewBook(l)
}

func (a *api) read(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	text, tag, err := a.folder.read(name)
	switch {
	case errors.Is(err, errName):
		refuse(w, http.StatusBadRequest, err, "")
		return
	case errors.Is(err, fs.ErrNotExist):
		if text, ok := example(name); ok {
			answer(w, http.StatusOK, text)
			return
		}
		refuse(w, http.StatusNotFound, errors.New("there is no file "+name), "it may have been renamed: reload the page")
		return
	case err != nil:
		refuse(w, http.StatusInternalServerError, err, "")
		return
	}
	spring, springTag, err := a.folder.read(springName(name))
	if err != nil { // not made yet
		spring, springTag = nil, ""
	}
	answer(w, http.StatusOK, fileJSON{name, string(text), tag, string(spring), springTag, a.folder.hasVisits(name)})
}

type fileJSON struct {
	Name      string `json:"name"`
	Text      string `json:"text"`
	Tag       string `json:"tag"` // "": nothing of that name is in the folder
	Spring    string `json:"spring"`
	SpringTag string `json:"spring_tag"`
	Visits    bool   `json:"visits"` // a history of visits is beside it
}

func (a *api) write(w http.ResponseWriter, r *http.Request) {
	body, ok := request[struct {
		Text string `json:"text"`
	}](w, r)
	if !ok {
		return
	}
	match := r.Header.Get("If-Match")
	if len(match) < 2 || match[0] != '"' || match[len(match)-1] != '"' {
		refuse(w, http.StatusPreconditionRequired, errors.New("a file is written only by who says which version was read"), "send If-Match")
		return
	}
	tag, err := a.folder.write(r.PathValue("name"), match[1:len(match)-1], []byte(body.Text))
	switch {
	case err == nil:
		answer(w, http.StatusOK, map[string]string{"tag": tag})
	case errors.Is(err, errName):
		refuse(w, http.StatusBadRequest, err, "")
	case errors.Is(err, errChanged):
		refuse(w, http.StatusPreconditionFailed, err, "another page or program wrote it: reload to see theirs, or save yours under another name")
	case errors.Is(err, errThere):
		refuse(w, http.StatusConflict, err, "choose another name")
	default:
		refuse(w, http.StatusInternalServerError, err, "")
	}
}

// events keeps a page counted as open.
func (a *api) events(w http.ResponseWriter, r *http.Request) {
	defer a.here.enter()()
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	beat := time.NewTicker(15 * time.Second) // so that a page that is gone is noticed
	defer beat.Stop()
	for {
		if _, err := w.Write([]byte(": here\n\n")); err != nil || out.Flush() != nil {
			return
		}
		select {
		case <-r.Context().Done():
			return
		case <-a.ctx.Done():
			return
		case <-beat.C:
		}
	}
}
