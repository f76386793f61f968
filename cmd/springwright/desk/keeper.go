package desk

import (
	"context"

	"springwright/export"
)

// Keeper makes and keeps the files of orders as the command "batch" does: the program hands it in, so that the page
// and the command write the same bytes, and care alike for what stands in a folder.
type Keeper struct {
	Program string        // its name and version, as files tell
	Imprint func() string // tells this program from any other that may make other files

	Render   func(export.Job) ([]export.File, error)
	Write    func(ctx context.Context, dir string, files []export.File) error
	Standing func(dir string) (whole bool, changed []string)
	// Papers prepares a folder for what comes beside the orders, and returns what writes it there.
	Papers func(ctx context.Context, dir string) (write func(ctx context.Context, files []export.File) error, err error)
}
