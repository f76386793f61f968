package photo

import (
	"bytes"

	"gonum.org/v1/gonum/spatial/r2"
)

// CardIn is the point of the card that each pixel of a picture shows.
func CardIn(data []byte) (card func(px r2.Vec) r2.Vec, err error) {
	g, err := decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	marks, err := findMarks(g)
	if err != nil {
		return nil, err
	}
	c, err := cameraOf(g, marks)
	if err != nil {
		return nil, err
	}
	return c.card, nil
}

// StripWord are the places of an owner's strip.
func StripWord(o Owner) uint32 { return o.word() }
