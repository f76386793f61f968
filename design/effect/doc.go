// Package effect is what loads do to teeth: the movement about the centre of resistance, the way both
// teeth are predicted to drift, the class of two slots' geometry, and how a spring compares with
// another or with a straight wire.
package effect
