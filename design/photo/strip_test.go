package photo_test

import (
	"bytes"
	"image"
	"image/png"
	"math/bits"
	"testing"

	"springwright/design/photo"
	"springwright/design/photo/phototest"
)

// The strip is read from pictures with all that spoils one, and a card without it has no owner.
func TestStripTellsTheOwner(t *testing.T) {
	t.Parallel()
	card := phototest.Card(cardPxPerMM)
	number := 4
	if testing.Short() {
		number = 3
	}
	for i := range number {
		// All places above, all below and some of both.
		want := [...]photo.Owner{{Class: 0xfff, Student: 255}, {Class: 0, Student: 1}, {Class: 0xa5c, Student: 24}}[i%3]
		trial := phototest.Random(i, 2000)
		trial.Draw(card, nil)
		for _, owner := range [...]photo.Owner{want, {}} {
			data := trial.View.Encode(phototest.Picture(card.Strip(owner), trial.Thing, trial.View))
			got, err := photo.ReadOwner(bytes.NewReader(data))
			if err != nil || got != owner {
				t.Errorf("picture %d, %s with %q: owner %+v (%v), want %+v", i, trial.Name, trial.Spoilt, got, err, owner)
			}
			if i > 0 {
				continue
			}
			if _, err := photo.Read(bytes.NewReader(data), trial.Expect()); err != nil {
				t.Errorf("with owner %+v the spring is not read: %v", owner, err)
			}
		}
	}
}

// A strip of which a place or two is misread tells nobody rather than somebody else.
func TestStripIsChecked(t *testing.T) {
	t.Parallel()
	// Words differ in three places at least, so that two wrong ones never make another.
	words := map[uint32]bool{}
	for _, o := range [...]photo.Owner{{Class: 1, Student: 1}, {Class: 0x123, Student: 7}, {Class: 0xfff, Student: 200}} {
		words[photo.StripWord(o)] = true
		for student := 1; student < 256; student++ {
			for class := range 1 << 12 {
				other := photo.Owner{Class: uint16(class), Student: uint8(student)}
				if far := bits.OnesCount32(photo.StripWord(o) ^ photo.StripWord(other)); other != o && far < 3 {
					t.Fatalf("%+v and %+v differ in %d places", o, other, far)
				}
			}
		}
	}
	if (photo.Owner{Class: 1 << 12, Student: 1}).Strip() != nil || (photo.Owner{Class: 1}).Strip() != nil {
		t.Error("an owner that a strip cannot say has one")
	}
}

// A picture of nothing is refused, not taken for a card without an owner.
func TestOwnerOfNothing(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, 600, 500))); err != nil {
		t.Fatal(err)
	}
	if o, err := photo.ReadOwner(&b); err == nil {
		t.Errorf("a black picture is the card of %+v", o)
	}
}
