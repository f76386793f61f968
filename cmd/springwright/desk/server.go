package desk

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os"
	"time"
)

// Options says what a desk serves and how.
type Options struct {
	Folder    string // of the cases
	Version   string // of the program
	IdleAfter time.Duration
	Keeper    Keeper // of orders in bulk
	// Opened is told the address once the server listens. An error of it ends the server.
	Opened func(address string) error
}

// DefaultIdle is how long the server waits for a page before it ends: a page that is reloaded
// is away for less than a second, a computer that slept comes back within minutes (choice).
const DefaultIdle = 5 * time.Minute

// Serve serves the desk until ctx ends or nobody has been there for o.IdleAfter. The error is
// nil then.
func Serve(ctx context.Context, o Options) error {
	root, err := os.OpenRoot(o.Folder)
	if err != nil {
		return fmt.Errorf("the folder cannot be opened: %w", err)
	}
	defer root.Close()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return fmt.Errorf("no port of this machine can be served: %w", err)
	}
	defer listener.Close()
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()

	host, token := listener.Addr().String(), newToken()
	here := newPresence(o.IdleAfter, cancel)
	server := &http.Server{
		Handler:           guard(host, token, newAPI(ctx, o, &folder{root: root}, here)),
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       30 * time.Second,
		MaxHeaderBytes:    1 << 14,
		BaseContext:       func(net.Listener) context.Context { return ctx },
	}
	failed := make(chan error, 1)
	go func() { failed <- server.Serve(listener) }()
	if o.Opened != nil {
		if err := o.Opened("http://" + host + "/?token=" + token); err != nil {
			server.Close()
			return err
		}
	}
	select {
	case err := <-failed:
		return fmt.Errorf("the desk cannot be served: %w", err)
	case <-ctx.Done():
	}
	// Answers under way, such as a search that now ends, get a moment to be written.
	last, done := context.WithTimeout(context.Background(), time.Second)
	defer done()
	if err := server.Shutdown(last); err != nil {
		server.Close()
	}
	if err := <-failed; !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}
