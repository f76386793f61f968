package orders

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

const (
	// longestName leaves room for "-twin" in the 32 characters of a case code.
	longestName = 27
	hashDigits  = 6 // of two codes that come to one name, one chance in 16 million that they keep to it
	twinEnding  = "-twin"
)

// fileName makes of any code the name of a folder that every file system takes, and that is a case code:
// small and capital letters A to Z, digits, - _ and ., a letter or digit first and last, no name that a system
// keeps for itself. exact tells that the code itself is such a name.
func fileName(code string) (name string, exact bool) {
	var b strings.Builder
	for _, r := range norm.NFKD.String(code) {
		switch {
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)), r == '_', r == '.':
			b.WriteRune(r)
		case unicode.Is(unicode.Mn, r): // the accent of a letter that stays
		default:
			if s := b.String(); s != "" && !strings.HasSuffix(s, "-") {
				b.WriteByte('-')
			}
		}
	}
	name = strings.Trim(b.String(), "-_.")
	if len(name) > longestName {
		name = strings.TrimRight(name[:longestName-hashDigits-1], "-_.")
	}
	switch {
	case name == "":
		name = "order"
	case kept(name):
		name = "order-" + name
	}
	if name == code {
		return name, true
	}
	return withHash(name, code), false
}

// kept tells names that Windows keeps for devices, whatever ends them.
func kept(name string) bool {
	stem, _, _ := strings.Cut(strings.ToLower(name), ".")
	if len(stem) == 4 && stem[3] >= '0' && stem[3] <= '9' && (stem[:3] == "com" || stem[:3] == "lpt") {
		return true
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul", "conin$", "conout$", "clock$"}, stem)
}

// withHash tells names apart that come from different codes.
func withHash(name, code string) string {
	sum := sha256.Sum256([]byte(code))
	if most := longestName - hashDigits - 1; len(name) > most {
		name = strings.TrimRight(name[:most], "-_.")
	}
	return name + "-" + hex.EncodeToString(sum[:])[:hashDigits]
}

// nameAll gives every order its name. Where two names differ in capitals alone, or an order's name is that of
// another's twin, both get the digits that tell them apart: no order's name hangs on which comes first.
func nameAll(list []Order) {
	taken := map[string]map[string]bool{} // codes by their names in small letters
	for _, o := range list {
		name, _ := fileName(o.Code)
		for _, n := range []string{name, name + twinEnding} {
			n = strings.ToLower(n)
			if taken[n] == nil {
				taken[n] = map[string]bool{}
			}
			taken[n][o.Code] = true
		}
	}
	for i := range list {
		name, exact := fileName(list[i].Code)
		if exact && (len(taken[strings.ToLower(name)]) > 1 || len(taken[strings.ToLower(name)+twinEnding]) > 1 || ownName(name)) {
			name = withHash(name, list[i].Code)
		}
		if list[i].Twin {
			name += twinEnding
		}
		list[i].Name = name
	}
}

// ownName tells names that files of a batch have.
func ownName(name string) bool {
	stem, _, _ := strings.Cut(strings.ToLower(name), ".")
	for _, own := range []string{"cover", "labels", "cut-list", "summary", "batch-files"} {
		if stem == own || strings.HasPrefix(stem, own+"-") {
			return true
		}
	}
	return false
}
