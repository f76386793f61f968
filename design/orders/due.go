package orders

import (
	"cmp"
	"errors"
	"regexp"
	"time"
)

// Due is when an order is needed: a day with or without a time, or a time of the day alone. The zero value
// says nothing.
type Due struct {
	Day  string // such as "2026-11-27"
	Time string // such as "14:00"
}

// String is such as "2026-11-27 14:00".
func (d Due) String() string {
	if d.Day != "" && d.Time != "" {
		return d.Day + " " + d.Time
	}
	return d.Day + d.Time
}

// compare puts the earlier of two first: a day without a time ends with it, and what is not said comes last.
func (d Due) compare(other Due) int {
	last := func(text string) string {
		if text == "" {
			return "~"
		}
		return text
	}
	if d.Day == "" && d.Time != "" || other.Day == "" && other.Time != "" { // a list has either all or none with a day
		return cmp.Compare(last(d.Time), last(other.Time))
	}
	return cmp.Or(cmp.Compare(last(d.Day), last(other.Day)), cmp.Compare(last(d.Time), last(other.Time)))
}

var (
	dayFirst   = regexp.MustCompile(`^(\d{4}-\d{2}-\d{2})(?:[T ]+(\d{1,2}:\d{2})(?::00(?:\.0+)?)?)?$`)
	dottedDay  = regexp.MustCompile(`^(\d{1,2}\.\d{1,2}\.\d{4})(?: +(\d{1,2}:\d{2})(?::00)?)?$`)
	timeAlone  = regexp.MustCompile(`^(\d{1,2}:\d{2})(?::00)?$`)
	slashedDay = regexp.MustCompile(`^\d{1,2}[/-]\d{1,2}[/-]\d{2,4}`)
)

// parseDue reads 2026-11-27, 2026-11-27 14:00, 27.11.2026 14:00 or 14:00.
func parseDue(text string) (Due, error) {
	var day, clock, layout string
	switch {
	case text == "":
		return Due{}, nil
	case dayFirst.MatchString(text):
		m := dayFirst.FindStringSubmatch(text)
		day, clock, layout = m[1], m[2], time.DateOnly
	case dottedDay.MatchString(text):
		m := dottedDay.FindStringSubmatch(text)
		day, clock, layout = m[1], m[2], "2.1.2006"
	case timeAlone.MatchString(text):
		clock = timeAlone.FindStringSubmatch(text)[1]
	case slashedDay.MatchString(text):
		return Due{}, errors.New("may be read with the day or with the month first")
	default:
		return Due{}, errors.New("is no day or time")
	}
	var due Due
	if day != "" {
		at, err := time.Parse(layout, day)
		if err != nil {
			return Due{}, errors.New("is no day of the calendar")
		}
		due.Day = at.Format(time.DateOnly)
	}
	if clock != "" {
		at, err := time.Parse("15:04", clock)
		if err != nil {
			return Due{}, errors.New("is no time of the day")
		}
		due.Time = at.Format("15:04")
	}
	return due, nil
}
