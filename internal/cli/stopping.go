package cli

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

// stoppable is a context that ends with the first Ctrl-C, or when the system asks the
// program to end. Whoever works then stops in good order. A second Ctrl-C finds no one
// who waits for it, and ends the program at once.
func stoppable(parent context.Context) (context.Context, context.CancelFunc) {
	ctx, stop := signal.NotifyContext(parent, os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop)
	return ctx, stop
}

// unlessStopped returns what some work comes to, or before it is done why it was stopped.
// The work itself knows of no context and is left alone: it must change nothing, and the
// program ends before it.
func unlessStopped[T any](ctx context.Context, work func() T) (T, error) {
	done := make(chan T, 1)
	go func() { done <- work() }()
	select {
	case result := <-done:
		return result, nil
	case <-ctx.Done():
		var none T
		return none, context.Cause(ctx)
	}
}
