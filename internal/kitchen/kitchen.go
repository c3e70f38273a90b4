// Package kitchen reads kitchen.yaml: the people, their instruments, and how
// their site shows things.
//
// Every key has a default and an empty file works. What the file does not say is
// never guessed from the machine the program runs on.
package kitchen

import (
	"sidebatch.example/sidebatch/internal/quantity"
	"sidebatch.example/sidebatch/internal/wording"
)

// File is the name of the kitchen's file in the content folder.
const File = "kitchen.yaml"

// Kitchen is a kitchen as its file describes it, defaults filled in.
type Kitchen struct {
	Name        string
	About       string
	People      []Person
	Address     string // of the site, with a slash at the end; "" when not said
	Language    string // BCP 47
	Units       []quantity.System
	Sizes       []Size
	Altitude    float64 // metres above the sea
	Instruments quantity.Instruments
	Accuracy    quantity.Amount // of the thermometer, a temperature difference; zero when not said
	Allergens   Allergens
	Theme       string
	Licence     Licence
	Invented    bool // the data are made up, and every page says so

	Words *wording.Language // of the theme, nearest to Language
}

// Licence is on what terms others may use the data and the text. The zero value says
// nothing.
type Licence struct {
	Name    string // "CC BY 4.0"
	Address string // of its text; "" when not said
}

// Person is somebody of the kitchen: the short name that notes use, and the one
// that pages show.
type Person struct {
	Key, Name string
}

// Size is a batch size, as a share of the full batch.
type Size struct {
	Of quantity.Number
}

// Allergens says whose list of allergens applies.
type Allergens string

const (
	AllergensUS   Allergens = "us"
	AllergensEU   Allergens = "eu"
	AllergensBoth Allergens = "both"
)

// Default is the kitchen of an empty file.
func Default() Kitchen {
	return Kitchen{
		Name:        "A test kitchen",
		Language:    "en",
		Units:       []quantity.System{quantity.MetricSystem, quantity.USSystem},
		Sizes:       []Size{{quantity.Ratio(1, 4)}, {quantity.Ratio(1, 2)}, {quantity.Int(1)}, {quantity.Int(2)}},
		Instruments: quantity.Instruments{}.WithDefaults(),
		Allergens:   AllergensUS,
		Theme:       "bench",
	}.Speaking(wording.English())
}

// Speaking returns the kitchen with the words of a language, and its amounts in that
// language's notation.
func (k Kitchen) Speaking(l *wording.Language) Kitchen {
	k.Words = l
	k.Instruments.Notation = quantity.Notation{
		Of:      l.Of("units").Say("of"),
		Decimal: l.Of("numbers").Say("decimal"),
		To:      l.Of("units").Say("to"),
		ToTaste: l.Of("units").Say("to taste"),
		Symbols: l.Of("units").All(),
	}
	return k
}

// Person returns the name to show for a person's key: the key itself for a guest
// whom the kitchen file does not list.
func (k Kitchen) Person(key string) string {
	for _, p := range k.People {
		if p.Key == key {
			return p.Name
		}
	}
	return key
}

// Knows reports whether the kitchen file lists the person.
func (k Kitchen) Knows(key string) bool {
	for _, p := range k.People {
		if p.Key == key {
			return true
		}
	}
	return false
}
