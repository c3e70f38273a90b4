package main

import "time"

// days is how many days the kitchen has cooked: ten years, from January 2016.
const days = 3652

// date is a day since the kitchen began.
type date struct{ day int }

func dayOf(day int) date { return date{day} }

// String writes the day as the calendar has it.
func (d date) String() string {
	return time.Date(2016, time.January, 1+d.day, 0, 0, 0, 0, time.UTC).Format(time.DateOnly)
}
