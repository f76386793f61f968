package main

import (
	"context"
	"os"
	"os/exec"
	"runtime"
	"sync"
	"time"

	"springwright/cmd/springwright/batch"
	"springwright/cmd/springwright/desk"
	"springwright/export"

	"github.com/spf13/pflag"
)

// deskOptions are the flags of "desk".
type deskOptions struct {
	noOpen    bool
	ownFolder bool
}

func newDesk() verb {
	var o deskOptions
	return verb{
		name:      "desk",
		arguments: "[FOLDER]",
		summary:   "show the whole job on one page in the browser",
		about: "FOLDER holds the cases, where none is given this one. The page is served to this machine\n" +
			"only, under an address with a secret in it, and nothing leaves the machine. The program ends\n" +
			"some minutes after the page is closed, or at once by Ctrl-C.\n",
		example: "desk\ndesk cases",
		most:    1,
		addFlags: func(flags *pflag.FlagSet) {
			flags.BoolVar(&o.noOpen, "no-open", false, "only print the address")
			flags.BoolVar(&o.ownFolder, "own-folder", false, "keep the cases in a folder \"springwright\" of your documents, as after a double click")
		},
		run: func(ctx context.Context, c console, args []string) error { return runDesk(ctx, o, c, args) },
	}
}

func runDesk(ctx context.Context, o deskOptions, c console, args []string) error {
	folder := "."
	switch {
	case len(args) > 0 && o.ownFolder:
		return wrongCommandLine("%s and --own-folder both name a folder", args[0]).hint("leave one of them out")
	case len(args) > 0:
		folder = args[0]
	case o.ownFolder:
		home, err := os.UserHomeDir()
		if err != nil {
			return &failure{code: exitFile, text: "the home folder is not known: " + err.Error()}
		}
		if folder, err = ownFolder(home); err != nil {
			return err
		}
	}
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return (&failure{code: exitFile, text: "the folder " + folder + " is not there"}).hint("name a folder that holds the cases, or make it first")
	}
	return desk.Serve(ctx, desk.Options{
		Folder: folder, Version: version, IdleAfter: desk.DefaultIdle, Keeper: deskKeeper(),
		Opened: func(address string) error {
			// A desktop may have left no place to print: the browser opens all the same.
			if err := writeAll(c.stdout, address+"\n"); o.noOpen || err != nil && !o.ownFolder {
				return err
			}
			if err := openBrowser(ctx, address); err != nil {
				c.say("warning", "no browser could be opened")
				c.say("hint", "open the address above in one")
			}
			return nil
		},
	})
}

// openBrowser has the system open an address.
func openBrowser(ctx context.Context, address string) error {
	name, args := systemOpener(address)
	started, cancel := context.WithTimeout(ctx, 5*time.Second)
	defer cancel()
	return exec.CommandContext(started, name, args...).Run()
}

// systemOpener is what opens an address or a file as a double click would.
func systemOpener(address string) (name string, args []string) {
	switch runtime.GOOS {
	case "windows":
		return "rundll32", []string{"url.dll,FileProtocolHandler", address}
	case "darwin":
		return "open", []string{address}
	}
	return "xdg-open", []string{address}
}

// deskKeeper is how the page keeps orders: as "batch" does.
func deskKeeper() desk.Keeper {
	return desk.Keeper{
		Program: origin("").Program, Imprint: sync.OnceValue(batch.Imprint), Render: renderOrder, Write: writeOrder, Standing: orderStanding,
		Papers: func(ctx context.Context, dir string) (func(context.Context, []export.File) error, error) {
			place, err := prepareOver(ctx, batchOutputs(), dir)
			return func(ctx context.Context, files []export.File) error {
				_, err := place.write(ctx, outputsOf(files))
				return err
			}, err
		},
	}
}
