package page

// Allergens is what the names of the ingredients point to: an aid, next to the
// label. It never says that something is free of an allergen.
type Allergens struct {
	Groups []AllergenGroup // surest first; may be empty where all was taken away
	Taken  []string        // sentences about what the note takes away, on the word of a label
	Notes  []string        // what looks like an allergen and is none
	Notice string          // that this is an aid, and the label counts
}

// AllergenGroup is the allergens that are known equally well.
type AllergenGroup struct {
	Strength string // "Contains", "Usually contains", "Check the label"
	Lines    []AllergenLine
}

// AllergenLine is one allergen with the ingredients it comes from.
type AllergenLine struct {
	Name string
	List string // "EU list", where the lists differ; may be empty
	From []AllergenFrom
	Note string // "the note says so"; may be empty
}

// AllergenFrom is an ingredient. Samples are those that have it; none: all of them.
type AllergenFrom struct {
	Food     string
	Samples  []SampleRef
	Strength string // where it is weaker than the group's: "check the label"; may be empty
}
