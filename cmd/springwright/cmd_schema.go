package main

import (
	"context"
	"strings"

	"springwright/design/casefile"
)

func newSchema() verb {
	return verb{
		name:      "schema",
		arguments: "[NAME]",
		summary:   "print the JSON Schema of what the program writes as JSON",
		about: "NAME is record (record.json, evaluate --json), design (design --json), adjustment (adjust --json), comparison\n" +
			"(compare --json), class (class.json, handout --json), marks (mark --json), wires, kinds, presets, visit, jig, batch (batch --json) or order (order.json); without one the names are listed. The key \"format\" of\n" +
			"a text ends with the name. Schemas are of draft 2020-12; later versions may write more keys.\n",
		example: "schema\nschema record",
		most:    1,
		words:   func([]string) []candidate { return plainCandidates(casefile.SchemaNames()) },
		run: func(_ context.Context, c console, args []string) error {
			if len(args) == 0 {
				return writeAll(c.stdout, strings.Join(casefile.SchemaNames(), "\n")+"\n")
			}
			text, err := casefile.Schema(args[0])
			if err != nil {
				return wrongCommandLine("%v", err)
			}
			return writeAll(c.stdout, text)
		},
	}
}
