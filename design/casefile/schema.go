package casefile

import (
	_ "embed"
	"errors"
	"fmt"
	"slices"
	"strings"

	"springwright/design/spelling"
)

// schemas defines all formats and what they share, under the names of SchemaNames and others.
//
//go:embed schemas.json
var schemas string

// formats are those that have a schema; its name is the format's last word.
var formats = [...]Format{
	RecordFormat, DesignFormat, ComparisonFormat, WiresFormat, KindsFormat, PresetsFormat, AdjustmentFormat,
	VisitFormat, ClassFormat, MarksFormat, JigFormat, OrderFormat, BatchFormat,
}

// ErrSchema means that no schema has a name.
var ErrSchema = errors.New("no schema")

// SchemaName is what the format's schema is called.
func (f Format) SchemaName() string { return strings.TrimPrefix(string(f), "springwright ") }

// SchemaNames lists the names of all schemas.
func SchemaNames() []string {
	var names []string
	for _, f := range formats {
		names = append(names, f.SchemaName())
	}
	return names
}

// Schema returns the JSON Schema (draft 2020-12) of a format by its name; it stands alone. A key
// that it does not name may be added by a later program. The error wraps ErrSchema.
func Schema(name string) (string, error) {
	if !slices.Contains(SchemaNames(), name) {
		text := "known are " + strings.Join(SchemaNames(), ", ")
		if near := spelling.Nearest(name, SchemaNames()); near != "" {
			text = fmt.Sprintf("did you mean %q? %s", near, text)
		}
		return "", fmt.Errorf("%w %q; %s", ErrSchema, name, text)
	}
	definitions := strings.ReplaceAll(strings.TrimSpace(schemas), "\n", "\n  ")
	return fmt.Sprintf("{\n  \"$schema\": \"https://json-schema.org/draft/2020-12/schema\",\n  \"$ref\": \"#/$defs/%s\",\n  \"$defs\": %s\n}\n", name, definitions), nil
}
