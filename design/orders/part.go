package orders

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
)

// Part is one of so many parts of a list, each for a machine of its own. The zero value is the whole list.
type Part struct{ Number, Of int }

const mostParts = 10_000

var partForm = regexp.MustCompile(`^(\d{1,5})/(\d{1,5})$`)

// ParsePart reads such as "3/8".
func ParsePart(text string) (Part, error) {
	m := partForm.FindStringSubmatch(text)
	if m == nil {
		return Part{}, fmt.Errorf("%q is no part such as 3/8", text)
	}
	number, _ := strconv.Atoi(m[1])
	of, _ := strconv.Atoi(m[2])
	if of < 1 || of > mostParts || number < 1 || number > of {
		return Part{}, fmt.Errorf("part %d of %d (allowed: 1/1 to %d/%d, the first number no larger than the second)", number, of, mostParts, mostParts)
	}
	return Part{number, of}, nil
}

// String is such as "3/8", "" for the whole.
func (p Part) String() string {
	if p == (Part{}) {
		return ""
	}
	return fmt.Sprintf("%d/%d", p.Number, p.Of)
}

// Has tells whether the part has an order. A spring and its twin are always in one part.
func (p Part) Has(o Order) bool { return p.Of <= 1 || o.Row%p.Of == p.Number-1 }

var errNoOrders = errors.New("holds no order")
