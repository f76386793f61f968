//go:build !windows && !darwin

package main

import "os"

// doubleClicked tells whether the program was started by a double click.
func doubleClicked(s streams) bool { return desktopStart(s, os.Getenv) }

// holdWindow does nothing: there is no window.
func holdWindow() {}
