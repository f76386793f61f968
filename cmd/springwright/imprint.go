package main

import (
	"os"
	"strings"
	"time"

	"springwright/design/casefile"
	"springwright/export"
)

// sheetDate is the date of a sheet.
func sheetDate() (string, error) {
	date, err := export.Date(os.LookupEnv, time.Now)
	if err != nil {
		return "", wrongCommandLine("%v", err).hint("unset it to print today's date")
	}
	return date, nil
}

// origin tells in a JSON text what has written it, and from what.
func origin(fingerprint string) casefile.Origin {
	return casefile.Origin{Program: strings.TrimSpace(versionLine()), Fingerprint: fingerprint}
}
