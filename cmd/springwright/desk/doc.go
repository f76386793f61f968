// Package desk serves the whole job as one page to a browser on the same machine: measuring,
// the wanted loads, the search, the spring with its loads while a bend is dragged, and the sheet.
//
// The page holds neither mechanics nor wording: what it shows comes from design/report and
// export, by way of the JSON endpoints below /api/v1/, which api.go lists.
//
// Nothing leaves the machine. The server listens on 127.0.0.1 only, answers requests only that
// carry the token of its address, names its own host, and come from its own page (guard.go).
package desk
