package casefile

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"springwright/design"
	"springwright/design/quantity"
)

const fingerprintDigits = 10 // one chance in 10¹² that two inputs share it

// Fingerprint is a short check value of everything that decides a design: the case file
// and the search settings that may have been changed since.
func Fingerprint(data []byte, s design.Search) string {
	h := sha256.New()
	h.Write(data)
	fmt.Fprintf(h, "\x00seed %d length step %s angle step %s starts %d", s.Seed,
		quantity.Millimetre.FormatInside(s.LengthStepMM), quantity.Degree.FormatInside(s.AngleStepRad), s.Starts)
	return hex.EncodeToString(h.Sum(nil))[:fingerprintDigits]
}

// FingerprintOf is a short check value of files.
func FingerprintOf(inputs ...[]byte) string {
	h := sha256.New()
	for _, data := range inputs {
		fmt.Fprintf(h, "%d\x00", len(data))
		h.Write(data)
	}
	return hex.EncodeToString(h.Sum(nil))[:fingerprintDigits]
}
