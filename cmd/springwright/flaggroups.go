package main

import (
	"slices"

	"github.com/spf13/pflag"
)

// flagGroup is a part of a command's flags, under a heading of the help.
type flagGroup struct {
	name  string
	flags *pflag.FlagSet
}

// flagGroups are the flags of a command: first its own, then those of every sheet and of every answer.
func flagGroups(flags *pflag.FlagSet) []flagGroup {
	common := []struct {
		name  string
		flags []string
	}{
		{"flags", nil}, // what is named nowhere below
		{"where files go", []string{"out", "force", "only", "open"}},
		{"on paper", []string{"paper", "lang", "scale-x", "scale-y", "pages", "stages", "twin", "twins", "per-sheet"}},
		{"on the terminal", []string{"list", "json", "quiet", "verbose"}},
	}
	groups := make([]flagGroup, len(common))
	for i, c := range common {
		groups[i] = flagGroup{c.name, pflag.NewFlagSet(c.name, pflag.ContinueOnError)}
		groups[i].flags.SortFlags = false
	}
	flags.VisitAll(func(f *pflag.Flag) {
		at := 0
		for i, c := range common {
			if slices.Contains(c.flags, f.Name) {
				at = i
			}
		}
		groups[at].flags.AddFlag(f)
	})
	return slices.DeleteFunc(groups, func(g flagGroup) bool { return !g.flags.HasFlags() })
}
