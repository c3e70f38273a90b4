package preview

import (
	"context"
	"time"
)

// One save is often several touches: an editor writes a new file, renames the old
// one, removes a third. They are waited for until it has been quiet for a moment,
// but not for ever, should something write without end.
const (
	quietTime = 20 * time.Millisecond
	mostTime  = 80 * time.Millisecond
	// graceTime is how long a file that looks half saved, empty or not there, may
	// stay so before it is shown as wrong.
	graceTime = 150 * time.Millisecond
)

type times struct{ quiet, most time.Duration }

// settle joins touches that follow each other closely, until the context ends.
func settle(ctx context.Context, in <-chan touch, out chan<- touch, t times) {
	for {
		var joined touch
		select {
		case <-ctx.Done():
			return
		case first := <-in:
			joined.join(first)
		}
		if !gather(ctx, in, &joined, t) {
			return
		}
		// While nobody takes it, more may be joined to it.
		for taken := false; !taken; {
			select {
			case <-ctx.Done():
				return
			case more := <-in:
				joined.join(more)
			case out <- joined:
				taken = true
			}
		}
	}
}

// gather joins touches until it is quiet; it reports whether to go on.
func gather(ctx context.Context, in <-chan touch, joined *touch, t times) bool {
	end := time.NewTimer(t.most)
	defer end.Stop()
	quiet := time.NewTimer(t.quiet)
	defer quiet.Stop()
	for {
		select {
		case <-ctx.Done():
			return false
		case more := <-in:
			joined.join(more)
			quiet.Reset(t.quiet)
		case <-quiet.C:
			return true
		case <-end.C:
			return true
		}
	}
}
