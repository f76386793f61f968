// Package layers holds the packages apart. It has tests alone, and as the first in the order of packages they are the
// first that go test tells of.
package layers

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

const module = "springwright/"

// layer is a rule about the packages below a folder: what none of them may depend on,
// directly or through others.
type layer struct {
	folder    string
	forbidden []string
}

func layers() []layer {
	const (
		drawing  = "github.com/tdewolff/canvas"
		flags    = "github.com/spf13/pflag"
		design   = module + "design"
		optimize = module + "optimize"
		export   = module + "export"
		presets  = module + "presets"
		command  = module + "cmd"
	)
	// beyond forbids packages of design to one that lies below them.
	beyond := func(names ...string) []string {
		var list []string
		for _, n := range names {
			list = append(list, design+"/"+n)
		}
		return list
	}
	return []layer{
		{design + "/beam", []string{module, drawing, flags}},
		{design + "/tooth", beyond("target", "spring", "solve", "family", "effect", "casefile")},
		{design + "/target", beyond("spring", "solve", "family", "effect", "casefile")},
		{design + "/spring", beyond("solve", "family", "effect", "casefile")},
		{design + "/solve", beyond("family", "effect", "casefile")},
		{design + "/family", beyond("solve", "effect", "casefile")},
		{design + "/effect", beyond("family", "casefile")},
		{design + "/bent", beyond("family", "casefile")},
		{design + "/course", beyond("family", "casefile")},
		{design + "/photo", beyond("solve", "family", "effect", "casefile", "report")},
		{design, []string{optimize, export, presets, command, drawing, flags}},
		{optimize + "/lsq", []string{module, drawing, flags}},
		{optimize + "/lattice", []string{module, drawing, flags}},
		{optimize + "/hand", []string{optimize, export, presets, command, drawing, flags}},
		{optimize + "/asbent", []string{export, presets, command, drawing, flags}},
		{optimize, []string{export, presets, command, drawing, flags}},
		{export, []string{optimize, presets, command, flags}},
		{presets, []string{optimize, export, command, drawing, flags}},
	}
}

// TestImportsRunOneWay holds the layers apart: beam ← design ← optimize, export, presets
// ← cmd.
func TestImportsRunOneWay(t *testing.T) {
	packages := listPackages(t)
	for _, l := range layers() {
		seen := false
		for _, p := range packages {
			if !within(p.ImportPath, l.folder) {
				continue
			}
			seen = true
			for _, dependency := range p.Deps {
				for _, forbidden := range l.forbidden {
					// A package may depend on its own folder: beam on parts of beam.
					if within(dependency, forbidden) && !within(dependency, l.folder) {
						t.Errorf("%s depends on %s, which packages in %s must not", p.ImportPath, dependency, l.folder)
					}
				}
			}
		}
		if !seen {
			t.Errorf("no package in %s: the rule about it checks nothing", l.folder)
		}
	}
}

// TestOnlyExportDraws keeps the drawing package behind export, so that a change of its API
// touches one folder.
func TestOnlyExportDraws(t *testing.T) {
	for _, p := range listPackages(t) {
		for _, imported := range p.Imports {
			if within(imported, "github.com/tdewolff/canvas") && !within(p.ImportPath, module+"export") {
				t.Errorf("%s imports %s, which only export may", p.ImportPath, imported)
			}
		}
	}
}

// TestPackagesAreNamedAfterTheirMatter refuses names that say nothing.
func TestPackagesAreNamedAfterTheirMatter(t *testing.T) {
	for _, p := range listPackages(t) {
		if slices.Contains([]string{"util", "utils", "common", "helper", "helpers", "misc"}, p.Name) {
			t.Errorf("%s is called %s", p.ImportPath, p.Name)
		}
	}
}

// within tells whether a package is the folder or below it.
func within(importPath, folder string) bool {
	folder = strings.TrimSuffix(folder, "/")
	return importPath == folder || strings.HasPrefix(importPath, folder+"/")
}

type listedPackage struct {
	ImportPath string
	Name       string
	Imports    []string
	Deps       []string
}

func listPackages(t *testing.T) []listedPackage {
	t.Helper()
	command := exec.Command("go", "list", "-json=ImportPath,Name,Imports,Deps", module+"...")
	var stderr bytes.Buffer
	command.Stderr = &stderr
	out, err := command.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, stderr.String())
	}
	var packages []listedPackage
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p listedPackage
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return packages
		} else if err != nil {
			t.Fatalf("go list: %v", err)
		}
		packages = append(packages, p)
	}
}
