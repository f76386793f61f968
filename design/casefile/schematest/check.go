// Package schematest holds JSON of the program against its schemas, in tests.
package schematest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"

	"springwright/design/casefile"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// Check tells where a text is not as the schema of its format says. It is stricter than the
// schema: a key that the schema does not name is a fault, too, as nobody has described it.
func Check(text []byte) error {
	var said struct{ Format casefile.Format }
	if err := json.Unmarshal(text, &said); err != nil {
		return err
	}
	printed, err := casefile.Schema(said.Format.SchemaName())
	if err != nil {
		return err
	}
	schema, err := jsonschema.UnmarshalJSON(strings.NewReader(printed))
	if err != nil {
		return fmt.Errorf("the schema is no JSON: %w", err)
	}
	closed(schema)
	compiler := jsonschema.NewCompiler()
	if err := compiler.AddResource("schema.json", schema); err != nil {
		return err
	}
	compiled, err := compiler.Compile("schema.json")
	if err != nil {
		return fmt.Errorf("no valid schema: %w", err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		return err
	}
	return compiled.Validate(value)
}

// closed lets no object have other keys than its properties. No schema here puts an object
// together from two lists of properties.
func closed(schema any) {
	switch s := schema.(type) {
	case []any:
		for _, item := range s {
			closed(item)
		}
	case map[string]any:
		for _, item := range s {
			closed(item)
		}
		if _, object := s["properties"].(map[string]any); object && s["type"] == "object" {
			s["additionalProperties"] = false
		}
	}
}
