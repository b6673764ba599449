package publish

import "sync/atomic"

// tell says how far a publish is, to whoever wants to know.
func (g *Guide) tell(what string, done, all int) {
	if g.Tell != nil {
		g.Tell(what, done, all)
	}
}

// steps counts what is done of something: each call of next is one more. Some may have
// been done before.
func (g *Guide) steps(what string, done, all int) (next func()) {
	var n atomic.Int64
	n.Store(int64(done))
	g.tell(what, done, all)
	return func() { g.tell(what, int(n.Add(1)), all) }
}
