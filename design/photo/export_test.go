package photo

import (
	"bytes"

	"gonum.org/v1/gonum/spatial/r2"
)

// SeenBy is where the card is found in a picture.
func SeenBy(data []byte) (card func(px r2.Vec) r2.Vec, errMM, blurMM, lens float64, err error) {
	g, err := decode(bytes.NewReader(data))
	if err != nil {
		return nil, 0, 0, 0, err
	}
	marks, err := findMarks(g)
	if err != nil {
		return nil, 0, 0, 0, err
	}
	c, err := cameraOf(g, marks)
	if err != nil {
		return nil, 0, 0, 0, err
	}
	return c.card, c.errMM, c.blurMM, c.lens, nil
}
