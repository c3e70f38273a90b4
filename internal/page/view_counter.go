package page

// Counter is what takes readings while a trial is repeated: timers, buttons and numbers
// for every piece. It needs a script, and stands above the bench sheet, which does not.
type Counter struct {
	Trial    string // its folder, under which the device keeps the readings
	Log      string // the file that the readings are saved as
	Worker   string // address of the script that keeps the page on the device; may be empty
	Script   string // address of the script, from the site's root
	Samples  []CounterSample
	Measures []CounterMeasure
	Plan     []byte // JSON: heading and rows of the empty log, and the columns to fill in
}

// CounterSample is a sample with the name that it has in the log.
type CounterSample struct {
	SampleRef
	Key string
}

// CounterMeasure is one reading of each piece.
type CounterMeasure struct {
	Name    string          // the column of the log
	Kind    string          // "time", "choice" or "number"
	Unit    string          // "°C", "from 1 tender to 9 tough"; may be empty
	Units   []string        // units to choose from, the measure's own first; none: no choice
	Asks    string          // what a pass means; may be empty
	Choices []CounterChoice // of a choice
}

// CounterChoice is what can be seen of a piece: what the log says, and what the button
// does.
type CounterChoice struct {
	Value, Label string
}
