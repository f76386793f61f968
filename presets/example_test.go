package presets_test

import (
	"fmt"

	"springwright/presets"
)

func Example() {
	for _, name := range presets.Names() {
		_, c, err := presets.Case(name)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: %s on tooth %d, held at %d\n", name, c.Family, c.Teeth.Active, c.Teeth.Anchor)
	}
	// Output:
	// cantilever: cantilever on tooth 23, held at 26
	// cantilever-with-helix: cantilever with helix on tooth 13, held at 16
	// closed-vertical-loop: closed vertical loop on tooth 13, held at 15
	// demo: rectangular loop on tooth 37, held at 36
	// incisor-intrusion: intrusion arch on tooth 12, held at 16
	// l-loop: L-loop on tooth 23, held at 25
	// molar-uprighting: uprighting spring on tooth 44, held at 47
	// open-vertical-loop: open vertical loop on tooth 23, held at 25
	// root-torque: root spring on tooth 23, held at 26
	// t-loop: T-loop on tooth 13, held at 16
}
