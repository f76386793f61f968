package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"

	"springwright/design/fault"
	"springwright/design/photo"
	"springwright/design/spring"
)

// largestPictureBytes is what photo.Read takes at most.
const largestPictureBytes = 96 << 20

// pictureReadings are what a picture of the bent spring on the card of the check page tells: every bend, and
// every straight between two of them, with the standard error of each.
func (c console) pictureReadings(name string, made spring.Spring) ([]spring.StepReading, error) {
	expect, err := photo.ExpectOf(made)
	if err != nil {
		return nil, pictureFailure(name, err)
	}
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
