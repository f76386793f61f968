package export

import (
	"fmt"
	"time"
)

// SourceDate is the environment variable that sets the date of a sheet, so that it can be repeated
// to the byte: a number of seconds since 1970 (reproducible-builds.org).
const SourceDate = "SOURCE_DATE_EPOCH"

// Date is today as sheets write it, or what SourceDate says.
func Date(lookup func(string) (string, bool), now func() time.Time) (string, error) {
	text, given := lookup(SourceDate)
	if !given {
		return now().Format(time.DateOnly), nil
	}
	var seconds int64
	const last = 253402300799 // of the year 9999: what comes behind is no date of four digits
	if _, err := fmt.Sscanf(text, "%d", &seconds); err != nil || fmt.Sprint(seconds) != text || seconds < 0 || seconds > last {
		return "", fmt.Errorf("%s is %q, not a number of seconds since 1970, from 0 to %d", SourceDate, text, int64(last))
	}
	return time.Unix(seconds, 0).UTC().Format(time.DateOnly), nil
}
