// Package design is the prescription: a Case says which tooth goes where, with which loads, in
// which room, from which wire, and Validate says what is wrong with it. The packages below it
// hold the rest of the vocabulary, each importing those before it only:
//
//	beam, wire, fibre   the rod, what it is made of, what its sections remember
//	tooth, target       teeth and the loads on them; what loads are held against
//	spring, solve       the bent wire; its loads over the travel
//	design              the case
//	family, effect      kinds of springs; what loads do to teeth
//	casefile            files in and out
//
// # Units
//
// Inside: mm, N, N·mm, MPa and radian. Degrees, inches and gf are converted where files
// and sheets are read or written (design/casefile, export, cmd).
//
// # Axes and signs
//
//	        z apical (towards the root tip)
//	        |
//	        |   loop
//	        |  ┌─────┐
//	anchor  |  │     │  active
//	 slot ──o──┘  ══─┘  slot        ──→ x, along the arch from anchor to active
//	        origin
//
// The origin is where the wire leaves the anchor slot, x runs along the arch from the
// anchor to the active tooth, z is apical, y = z × x. A force +z on a tooth intrudes it.
// A couple about +y carries the root towards +x and the crown towards −x. Every Load is
// the load ON THE TOOTH, its couple taken about the centre of that tooth's slot: where the
// wire is hooked on, about the point of the tooth that it is hooked to.
//
// # Bends
//
// A spring starts at the origin along +x, width along +y, thickness along +z. A
// second-order bend turns the wire towards its own thickness side (+d3), a first-order
// bend towards its own width side (+d2), a twist turns it about its running direction.
package design
