package desk

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"encoding/json"
	"hash/crc32"
	"image"
	"image/png"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"runtime"
	"strings"
	"testing"

	"springwright/design/beam"
	"springwright/design/casefile"
	"springwright/design/spring"
	"springwright/design/wire"

	"gonum.org/v1/gonum/spatial/r3"
)

// flatSpring is a spring file of a flat spring.
func flatSpring() []byte {
	s := spring.Spring{
		Title: "flat", Positions: 2, AnchorSlotLengthMM: 3, ActiveSlotLengthMM: 3, Heading: spring.Back,
		Path: spring.PathOf(spring.StraightStep(4), spring.BendStep(1, 1), spring.StraightStep(6)),
		Wire: wire.Wire{Alloy: "beta-titanium", EMPa: 65000, Poisson: 0.3, YieldMPa: 900, ThicknessMM: 0.43, WidthMM: 0.6},
	}
	end := s.Rod().UnloadedEnd(beam.Origin()).At
	s.Start, s.End = spring.Seat{AtMM: r3.Add(end, r3.Vec{Z: 0.6})}, spring.Seat{AtMM: end}
	return casefile.WriteSpring(s)
}

// posted sends parts of a form, name and content in turn, to the endpoint of pictures.
func posted(t *testing.T, a *api, body io.Reader, kind string) (status int, told failed) {
	t.Helper()
	r := httptest.NewRequest("POST", picturePath, body)
	r.Header.Set("Content-Type", kind)
	w := httptest.NewRecorder()
	a.picture(w, r)
	if err := json.Unmarshal(w.Body.Bytes(), &told); err != nil {
		t.Fatalf("%d, %v: %s", w.Code, err, w.Body)
	}
	return w.Code, told
}

func partsOf(t *testing.T, parts ...string) (io.Reader, string) {
	t.Helper()
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for i := 0; i < len(parts); i += 2 {
		part, err := w.CreateFormFile(parts[i], parts[i])
		if err == nil {
			_, err = io.WriteString(part, parts[i+1])
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	w.Close()
	return &body, w.FormDataContentType()
}

// hollowPNG is a picture whose head tells of so many pixels of 8 or 16 bits a colour, and which holds nearly
// nothing.
func hollowPNG(width, height uint32, bits byte) string {
	var out bytes.Buffer
	out.WriteString("\x89PNG\r\n\x1a\n")
	chunk := func(kind string, data []byte) {
		binary.Write(&out, binary.BigEndian, uint32(len(data)))
		both := append([]byte(kind), data...)
		out.Write(both)
		binary.Write(&out, binary.BigEndian, crc32.ChecksumIEEE(both))
	}
	head := make([]byte, 13)
	binary.BigEndian.PutUint32(head, width)
	binary.BigEndian.PutUint32(head[4:], height)
	head[8], head[9] = bits, 6 // colour with alpha
	chunk("IHDR", head)
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	z.Write(make([]byte, 1<<16))
	z.Close()
	chunk("IDAT", packed.Bytes())
	chunk("IEND", nil)
	return out.String()
}

// Pictures that nobody took are refused before they take memory, each with its reason in the language of
// the page.
func TestHostilePictures(t *testing.T) {
	made := string(flatSpring())
	var grey bytes.Buffer
	if err := png.Encode(&grey, image.NewGray(image.Rect(0, 0, 800, 600))); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		name   string
		parts  []string
		status int
		says   string
	}{
		{"no picture", []string{"spring", made, "lang", "es"}, http.StatusUnprocessableEntity, "no es una imagen"},
		{"a text", []string{"spring", made, "lang", "pt", "picture", "hello"}, http.StatusUnprocessableEntity, "não é uma imagem"},
		{"four thousand million pixels", []string{"spring", made, "lang", "pt", "picture", hollowPNG(65000, 65000, 8)}, http.StatusUnprocessableEntity, "maior do que se lê"},
		{"the widest that a head can tell", []string{"spring", made, "lang", "en", "picture", hollowPNG(1<<31-1, 1<<31-1, 8)}, http.StatusUnprocessableEntity, ""},
		{"60 million pixels of 16 bits", []string{"spring", made, "lang", "en", "picture", hollowPNG(10000, 6000, 16)}, http.StatusUnprocessableEntity, "larger than is read"},
		{"nothing on it", []string{"spring", made, "lang", "es", "picture", grey.String()}, http.StatusUnprocessableEntity, "marca"},
		{"no spring", []string{"lang", "es", "picture", grey.String()}, http.StatusUnprocessableEntity, ""},
		{"a part that nobody asked for", []string{"spring", made, "file", "x"}, http.StatusBadRequest, ""},
		{"a spring that is too long", []string{"spring", strings.Repeat(" ", largestFile+1)}, http.StatusRequestEntityTooLarge, ""},
		{"too many bytes", []string{"spring", made, "picture", strings.Repeat("x", mostPictureBytes+1)}, http.StatusRequestEntityTooLarge, ""},
	}
	for _, test := range tests {
		var before, after runtime.MemStats
		body, kind := partsOf(t, test.parts...)
		runtime.ReadMemStats(&before)
		status, told := posted(t, &api{ctx: t.Context()}, body, kind)
		runtime.ReadMemStats(&after)
		if status != test.status || !strings.Contains(told.Error, test.says) {
			t.Errorf("%s: %d, %q %v", test.name, status, told.Error, told.Faults)
		}
		// What is read into memory doubles as it grows; a picture taken apart would be far beyond.
		if grown := after.TotalAlloc - before.TotalAlloc; grown > 6*mostPictureBytes {
			t.Errorf("%s takes %d MB", test.name, grown>>20)
		}
	}
	if status, _ := posted(t, &api{ctx: t.Context()}, strings.NewReader("--x\r\nContent-Disposition: form-data; name=\"spring\"\r\n\r\nabc"), "multipart/form-data; boundary=x"); status != http.StatusBadRequest {
		t.Errorf("half a form: %d", status)
	}
	busy := &api{ctx: t.Context()}
	busy.pictures.Lock()
	body, kind := partsOf(t, "spring", made)
	if status, _ := posted(t, busy, body, kind); status != http.StatusConflict {
		t.Errorf("while another one is read: %d", status)
	}
}

// Of pictures the guard lets more through than of other requests, and no more than it says.
func TestGuardBoundsPictures(t *testing.T) {
	const host, token = "127.0.0.1:4711", "0123456789abcdef0123456789abcdef"
	handler := guard(host, token, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if _, err := io.Copy(io.Discard, r.Body); err != nil {
			w.WriteHeader(http.StatusRequestEntityTooLarge)
		}
	}))
	for _, c := range []struct {
		path  string
		bytes int
		want  int
	}{
		{picturePath, mostPictureBytes, http.StatusOK},
		{picturePath, mostPictureBytes + 1, http.StatusRequestEntityTooLarge},
		{"/api/v1/adjust", mostBodyBytes + 1, http.StatusRequestEntityTooLarge},
		{picturePath + "/", mostBodyBytes + 1, http.StatusRequestEntityTooLarge},
	} {
		r := httptest.NewRequest("POST", c.path, io.LimitReader(zeros{}, int64(c.bytes)))
		r.Host = host
		r.AddCookie(&http.Cookie{Name: "springwright-4711", Value: token})
		w := httptest.NewRecorder()
		handler.ServeHTTP(w, r)
		if w.Code != c.want {
			t.Errorf("%d bytes to %s: %d, want %d", c.bytes, c.path, w.Code, c.want)
		}
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) {
	clear(p)
	return len(p), nil
}
