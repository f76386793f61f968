package invented

import (
	_ "embed"

	"springwright/design"
	"springwright/design/casefile"
)

//go:embed tied-loop.toml
var tiedLoop []byte

// TiedLoop is an over-erupted molar with a rectangular loop in slots without play. The error is that of
// casefile.ReadCase.
func TiedLoop() (design.Case, error) { return casefile.ReadCase("tied-loop.toml", tiedLoop) }
