package quantity

import "slices"

// System is how a reader wants to see amounts.
type System uint8

// The systems. Temperatures are in °F for US readers and in °C for the others.
const (
	MetricSystem   System = iota // g, kg, mL, L, °C, mm, cm
	USSystem                     // lb and oz, US spoons and cups, °F, inches
	ImperialSystem               // lb and oz, imperial fluid ounces and pints, °C, inches
)

// String names the system: metric, us, imperial.
func (s System) String() string {
	switch s {
	case USSystem:
		return "us"
	case ImperialSystem:
		return "imperial"
	}
	return "metric"
}

// Volumes returns what a bare cup means in text that is shown in this system.
func (s System) Volumes() Volumes {
	switch s {
	case USSystem:
		return USCustomary
	case ImperialSystem:
		return Imperial
	}
	return Metric
}

// Instruments is what a kitchen measures with. The zero value is an
// ordinary kitchen; each field says what its own zero means.
type Instruments struct {
	// Scale is the step the scale reads in, a mass. Zero means 1 g.
	Scale Amount
	// Spoons are the measuring spoons. Nil means 1/8, 1/4, 1/2 and 1 tsp and 1 tbsp
	// of the kitchen's Volumes; a list that is empty but not nil means none.
	Spoons []Amount
	// Cups are the measuring cups. Nil means 1/4, 1/3, 1/2 and 1 cup of the kitchen's
	// Volumes; a list that is empty but not nil means none.
	Cups []Amount
	// Thermometer is the step the thermometer reads in, a difference (or a
	// temperature, whose number is then taken as a difference). Zero means 1 °C.
	Thermometer Amount
	// Timer is the step the timer reads in. Zero means 1 s.
	Timer Amount
	// Volumes says which spoons and cups the kitchen owns.
	Volumes Volumes
	// Notation is how amounts are written for its readers.
	Notation Notation
}

// WithDefaults returns the instruments with every zero field filled in. A step that
// is of another kind than its instrument, or not above zero, counts as zero.
func (in Instruments) WithDefaults() Instruments {
	in.Scale = stepOr(in.Scale, New(Int(1), Gram))
	in.Timer = stepOr(in.Timer, New(Int(1), Second))
	if step, ok := in.Thermometer.AsDifference(); ok {
		in.Thermometer = step
	}
	in.Thermometer = stepOr(in.Thermometer, New(Int(1), CelsiusDegree))
	if in.Spoons == nil {
		in.Spoons = defaultSpoons(in.Volumes)
	}
	if in.Cups == nil {
		in.Cups = defaultCups(in.Volumes)
	}
	return in
}

func stepOr(step, otherwise Amount) Amount {
	if step.Dimension() != otherwise.Dimension() || step.low.Sign() <= 0 {
		return otherwise
	}
	return New(step.low, step.unit)
}

func defaultSpoons(v Volumes) []Amount {
	tsp, tbsp := Teaspoon, Tablespoon
	if v != USCustomary {
		tsp, tbsp = MetricTeaspoon, MetricTablespoon
	}
	return []Amount{
		New(Ratio(1, 8), tsp), New(Ratio(1, 4), tsp), New(Ratio(1, 2), tsp), New(Int(1), tsp), New(Int(1), tbsp),
	}
}

func defaultCups(v Volumes) []Amount {
	cup := Cup
	switch v {
	case Metric:
		cup = MetricCup
	case Imperial:
		cup = ImperialCup
	}
	return []Amount{New(Ratio(1, 4), cup), New(Ratio(1, 3), cup), New(Ratio(1, 2), cup), New(Int(1), cup)}
}

// measures returns the spoons and cups for a reader of that system: the kitchen's
// own where they are of that system, else the usual set.
func (in Instruments) measures(s System) []Amount {
	v := s.Volumes()
	if in.Volumes != v {
		in = Instruments{Volumes: v}
	}
	in = in.WithDefaults()
	var all []Amount
	for _, m := range slices.Concat(in.Spoons, in.Cups) {
		if m.Dimension() == Volume && m.low.Sign() > 0 && !m.IsRange() {
			all = append(all, m)
		}
	}
	return all
}
