package desk

import (
	"bytes"
	"encoding/base64"
	"errors"
	"fmt"
	"image"
	"image/color"
	"io"
	"mime/multipart"
	"net/http"

	"springwright/design/casefile"
	"springwright/design/photo"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/export/words"
)

const picturePath = "/api/v1/picture"

// seenStep is what a picture tells of a step of the path, mm or rad, with its standard error.
type seenStep struct {
	Step  int     `json:"step"`
	Value float64 `json:"value"`
	SD    float64 `json:"sd"`
}

type pictureAnswer struct {
	Seen    []seenStep        `json:"seen"`
	Texts   map[string]string `json:"texts"` // the same in words, by the keys of the steps
	Notes   []string          `json:"notes"`
	Overlay string            `json:"overlay"` // of what was read, as a data address
	Label   string            `json:"label"`
}

// pictureRequest is a form with a picture in it.
type pictureRequest struct {
	spring, lang string
	picture      []byte
}

var errPart = errors.New("a form of spring, lang and picture is expected")

// readForm reads the parts of a form into memory, each within its bounds.
func readForm(parts *multipart.Reader) (q pictureRequest, err error) {
	for {
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return q, nil
		}
		if err != nil {
			return q, err
		}
		most := int64(largestFile)
		if part.FormName() == "picture" {
			most = mostPictureBytes
		}
		data, err := io.ReadAll(io.LimitReader(part, most+1))
		if err != nil {
			return q, err
		}
		if int64(len(data)) > most {
			return q, &http.MaxBytesError{Limit: most}
		}
		switch part.FormName() {
		case "spring":
			q.spring = string(data)
		case "lang":
			q.lang = string(data)
		case "picture":
			q.picture = data
		default:
			return q, errPart
		}
	}
}

// mostDecodedBytes bounds the memory that a picture takes once it is taken apart: four bytes for each of the
// pixels that package photo reads at most. One of 16 bits a colour takes twice as many.
const mostDecodedBytes = 4 * 64_000_000

// tooLarge tells from a picture's head whether it would take more memory than that.
func tooLarge(picture []byte) bool {
	config, _, err := image.DecodeConfig(bytes.NewReader(picture))
	if err != nil {
		return false // package photo says what it is
	}
	perPixel := int64(4)
	switch config.ColorModel {
	case color.NRGBA64Model, color.RGBA64Model:
		perPixel = 8
	}
	return config.Width > 0 && config.Height > 0 && int64(config.Width) > mostDecodedBytes/perPixel/int64(config.Height)
}

// In one piece: a request, step by step, each with its refusal.
func (a *api) picture(w http.ResponseWriter, r *http.Request) {
	parts, err := r.MultipartReader()
	if err != nil {
		refuse(w, http.StatusBadRequest, errPart, "")
		return
	}
	// Before it is read into memory: one picture at a time is there.
	if !a.pictures.TryLock() {
		refuse(w, http.StatusConflict, errors.New("another picture is being read"), "wait for it")
		return
	}
	defer a.pictures.Unlock()
	q, err := readForm(parts)
	b := book(q.lang)
	if err != nil {
		status, text := http.StatusBadRequest, err
		if _, large := errors.AsType[*http.MaxBytesError](err); large {
			status, text = http.StatusRequestEntityTooLarge, errors.New(b.Say("the picture has more than %d MB", mostPictureBytes>>20))
		}
		refuse(w, status, text, "")
		return
	}
	made, err := casefile.ReadSpring("", []byte(q.spring))
	if err != nil {
		refuse(w, http.StatusUnprocessableEntity, err, "")
		return
	}
	outline, err := readPicture(made, q)
	if err != nil {
		text, hint := err.Error(), ""
		if refused, ok := errors.AsType[*photo.PictureError](err); ok {
			text, hint = b.PictureRefusal(refused)
		}
		refuse(w, http.StatusUnprocessableEntity, errors.New(words.Capital(text)+"."), words.Capital(hint))
		return
	}
	var overlay bytes.Buffer
	if err := outline.WriteOverlay(&overlay); err != nil {
		refuse(w, http.StatusInternalServerError, err, "")
		return
	}
	out := pictureAnswer{
		Texts: map[string]string{}, Notes: []string{}, Label: b.Say("What was read in the picture: the wire's middle and edges, its bends with their numbers, A at the anchor end"),
		Overlay: "data:image/png;base64," + base64.StdEncoding.EncodeToString(overlay.Bytes()),
	}
	for _, n := range outline.Notes {
		out.Notes = append(out.Notes, words.Capital(b.PictureNote(n))+".")
	}
	steps, keys := made.Path.Steps(), casefile.StepKeys(made.Path)
	for _, s := range outline.Readings() {
		out.Seen = append(out.Seen, seenStep{s.Step, s.Value, s.SD})
		text := fmt.Sprintf("%s ± %s mm", b.Number(s.Value, 2), b.Number(s.SD, 2))
		if steps[s.Step].Kind != spring.Straight {
			sense := 1.0
			if steps[s.Step].AngleRad < 0 {
				sense = -1
			}
			degrees := quantity.Degree.Outside
			text = fmt.Sprintf("%s° ± %s°", b.Number(degrees(sense*s.Value), 1), b.Number(degrees(s.SD), 1))
		}
		out.Texts[keys[s.Step]] = b.Say("in the picture %s", text)
	}
	answer(w, http.StatusOK, out)
}

func readPicture(made spring.Spring, q pictureRequest) (photo.Outline, error) {
	expect, err := photo.ExpectOf(made)
	if err != nil {
		return photo.Outline{}, err
	}
	expect.AnchorLeft = true // as the card says
	if tooLarge(q.picture) {
		return photo.Outline{}, &photo.PictureError{Reason: photo.TooLarge}
	}
	return photo.Read(bytes.NewReader(q.picture), expect)
}
