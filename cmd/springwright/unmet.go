package main

import (
	"springwright/design/spring"
	"springwright/design/tooth"
)

// warnUnmet says again what a spring of a file misses of the target it was designed for: in the
// words of the trade where teeth are given.
func (c console) warnUnmet(file string, teeth tooth.Pair, s spring.Spring) {
	texts := english().Shortfall(teeth, s)
	if len(texts) == 0 {
		return
	}
	c.say("warning", file+" says that this spring does not meet the target it was designed for")
	for _, text := range texts {
		c.say("warning", text)
	}
}
