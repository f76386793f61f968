package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"

	"springwright/design/fault"
	"springwright/design/photo"
	"springwright/design/quantity"
	"springwright/design/spring"
	"springwright/export"

	"github.com/spf13/pflag"
)

// largestPictureBytes is what photo.Read takes at most.
const largestPictureBytes = 96 << 20

// pictureCard is what the 100 mm bars measure on the page that the spring was pictured on; 0 where nobody has
// measured them.
type pictureCard struct{ levelMM, uprightMM float64 }

func (p *pictureCard) addFlags(flags *pflag.FlagSet) {
	flags.Var(quantityFlag{quantity.Millimetre, export.ShortestBarMM, export.LongestBarMM, &p.levelMM}, "card-x",
		"`MM` that the level 100 mm bar measures on the very page in the picture, where it is not 100")
	flags.Var(quantityFlag{quantity.Millimetre, export.ShortestBarMM, export.LongestBarMM, &p.uprightMM}, "card-y",
		"`MM` that the upright bar measures there")
}

// pictureReadings are what a picture of the bent spring on the card of the check page tells: every bend, and
// every straight between two of them, with the standard error of each.
func (c console) pictureReadings(name string, made spring.Spring, card pictureCard) ([]spring.StepReading, error) {
	expect, err := photo.ExpectOf(made)
	if err != nil {
		return nil, pictureFailure(name, err)
	}
	expect.LevelBarMM, expect.UprightBarMM = card.levelMM, card.uprightMM
	expect.AnchorLeft = true // as the card says
	f, err := os.Open(name)
	if err != nil {
		return nil, unreadable(name, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestPictureBytes+1))
	if err != nil {
		return nil, unreadable(name, err)
	}
	outline, err := photo.Read(bytes.NewReader(data), expect)
	if err != nil {
		return nil, pictureFailure(name, err)
	}
	for _, n := range outline.Notes {
		c.say("warning", english().PictureNote(n))
	}
	return outline.Readings(), nil
}

// pictureFailure says why a picture is not read, and what to do.
func pictureFailure(name string, err error) error {
	var refused *photo.PictureError
	if errors.As(err, &refused) {
		return fault.List{refused.Fault(name)}
	}
	return &failure{code: exitFile, text: fmt.Sprintf("%s: %v", name, err)}
}
