package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"springwright/design/casefile"
	"springwright/design/spring"
)

// largestInputBytes is far above any case or spring that a person writes.
const largestInputBytes = 1 << 20

// readInput reads a file named on the command line. It returns at the end of ctx, too: a
// pipe that nobody writes to would keep the program from ending.
func readInput(ctx context.Context, name string) ([]byte, error) {
	return readInputUpTo(ctx, name, largestInputBytes)
}

// readSpring reads a spring file named on the command line, and gives its bytes as well.
func readSpring(ctx context.Context, name string) (spring.Spring, []byte, error) {
	data, err := readInput(ctx, name)
	if err != nil {
		return spring.Spring{}, nil, err
	}
	s, err := casefile.ReadSpring(shownName(name), data)
	return s, data, err
}

func readInputUpTo(ctx context.Context, name string, most int) ([]byte, error) {
	type result struct {
		data []byte
		err  error
	}
	done := make(chan result, 1)
	go func() {
		data, err := readFile(name, most)
		done <- result{data, err}
	}()
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case r := <-done:
		return r.data, r.err
	}
}

func readFile(name string, most int) ([]byte, error) {
	f := os.Stdin
	if name != dash {
		var err error
		if f, err = os.Open(name); err != nil {
			return nil, unreadable(name, err)
		}
		defer f.Close()
	}
	data, err := io.ReadAll(io.LimitReader(f, int64(most)+1))
	if err != nil {
		return nil, unreadable(name, err)
	}
	if len(data) > most {
		return nil, unreadable(name, fmt.Errorf("it is larger than %d bytes", most))
	}
	return data, nil
}

func unreadable(name string, err error) error {
	var pathError *fs.PathError
	if errors.As(err, &pathError) {
		err = pathError.Err // without the operation and a second mention of the name
	}
	return &failure{code: exitFile, text: fmt.Sprintf("%s cannot be read: %v", shownName(name), err)}
}
