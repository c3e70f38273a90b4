package recipe

import "sidebatch.example/sidebatch/internal/quantity"

// Weighed is what the scale said about a batch. A zero amount was not weighed.
type Weighed struct {
	Dough   quantity.Amount // the whole batch, mixed
	Each    quantity.Amount // one piece
	Divided int             // pieces that the batch was divided into, 0: not said
}

// Balance compares what went into a batch with what came out of the bowl. Masses
// are grams.
type Balance struct {
	In      quantity.Number
	About   bool     // In leans on a density
	Missing []string // roles of unknown mass, not in In
	Dough   quantity.Number
	Loss    quantity.Number // In − Dough; negative: more came out than went in
	Percent quantity.Number // Loss as percent of In
	Known   bool            // whether Dough, Loss and Percent are known
	Pieces  quantity.Number // pieces × each, 0 where not said
}

// Balance adds up what went in, at this recipe's size, and holds it against what
// was weighed. With an ingredient of unknown mass there is no loss to speak of.
func (r Recipe) Balance(w Weighed) Balance {
	batch := r.Batch()
	b := Balance{In: batch.Formula.Mass(), About: batch.About, Missing: batch.Missing}
	if w.Divided > 0 && !w.Each.IsZero() {
		b.Pieces = grams(w.Each).Mul(quantity.Int(int64(w.Divided)))
	}
	if w.Dough.IsZero() {
		return b
	}
	b.Dough = grams(w.Dough)
	if len(b.Missing) > 0 {
		return b
	}
	b.Loss = b.In.Sub(b.Dough)
	b.Percent, b.Known = b.Loss.Mul(quantity.Int(100)).Quo(b.In)
	return b
}

func grams(a quantity.Amount) quantity.Number {
	low, high := a.Base()
	half, _ := low.Add(high).Quo(quantity.Int(2))
	return half
}
