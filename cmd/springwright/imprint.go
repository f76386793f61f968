package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"
	"time"

	"springwright/design"
	"springwright/design/casefile"
	"springwright/design/quantity"
)

// sheetDate is today, or what SOURCE_DATE_EPOCH says, so that a design can be repeated to
// the byte (reproducible-builds.org, specification of that variable).
func sheetDate(lookup func(string) (string, bool), now func() time.Time) (string, error) {
	const name = "SOURCE_DATE_EPOCH"
	text, given := lookup(name)
	if !given {
		return now().Format(time.DateOnly), nil
	}
	var seconds int64
	if _, err := fmt.Sscanf(text, "%d", &seconds); err != nil || fmt.Sprint(seconds) != text || seconds < 0 {
		return "", wrongCommandLine("%s is %q, not a number of seconds since 1970", name, text).hint("unset it to print today's date")
	}
	return time.Unix(seconds, 0).UTC().Format(time.DateOnly), nil
}

// origin tells in a JSON text what has written it, and from what.
func origin(fingerprint string) casefile.Origin {
	return casefile.Origin{Program: strings.TrimSpace(versionLine()), Fingerprint: fingerprint}
}

const fingerprintDigits = 10 // one chance in 10¹² that two inputs share it

// fingerprint is a short check value of everything that decides a design: the case file
// and the search settings that flags may have changed.
func fingerprint(text []byte, s design.Search) string {
	h := sha256.New()
	h.Write(text)
	fmt.Fprintf(h, "\x00seed %d length step %s angle step %s starts %d", s.Seed,
		quantity.Millimetre.FormatInside(s.LengthStepMM), quantity.Degree.FormatInside(s.AngleStepRad), s.Starts)
	return hex.EncodeToString(h.Sum(nil))[:fingerprintDigits]
}

// fingerprintOf is a short check value of spring files.
func fingerprintOf(inputs ...[]byte) string {
	h := sha256.New()
	for _, data := range inputs {
		fmt.Fprintf(h, "%d\x00", len(data))
		h.Write(data)
	}
	return hex.EncodeToString(h.Sum(nil))[:fingerprintDigits]
}
