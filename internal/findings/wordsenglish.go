package findings

import "strings"

// phrases are the fixed parts of what findings say, by name. A name in braces is
// filled in. Another language is another set with the same names; numbers and units
// are written by text.go.
type phrases map[string]string

// phrases returns those of the kitchen's language. English serves for all so far.
func (f *Findings) phrases() phrases { return english() }

// say fills in a phrase: names and values in turn.
func (p phrases) say(name string, fill ...string) string {
	text := p[name]
	for i := 0; i+1 < len(fill); i += 2 {
		text = strings.ReplaceAll(text, "{"+fill[i]+"}", fill[i+1])
	}
	return text
}

func english() phrases {
	return phrases{
		// What was seen.
		"share seen":      "“{measure}”{aside} came to {x} for {of} against {y} for {against}",
		"mean seen":       "“{measure}”{aside} came to {x} for {of} against {y} for {against}, {difference}",
		"score seen":      "“{measure}”{aside} was scored {difference} for {of} than for {against}, in the middle of what {n} said",
		"score level":     "“{measure}”{aside} was scored as high for {of} as for {against}, in the middle of what {n} said",
		"rank seen":       "“{measure}”{aside} gave rank sums of {x} for {of} and {y} for {against}, from {n}",
		"count":           "{passes} of {n}",
		"interval across": "{size} (95 % interval: from {low} to {high})",
		"interval":        "{size} (95 % interval: {low} to {high})",
		"exploratory":     " (exploratory)",
		"in pairs":        ", in {n} pairs of batches",
		"in batches":      ", in {n} and {m} batches",
		"less":            "{size} less",
		"more":            "{size} more",
		"no difference":   "no difference",
		"points of one":   "{n} point",
		"points of many":  "{n} points",

		// How often luck alone makes it.
		"luck":       "; a gap this wide comes up in {luck} by luck alone",
		"luck of":    "; a gap this wide comes up in {luck} by luck alone, allowing for the {family} pairs compared",
		"luck two":   "; a gap this wide comes up in {luck} by luck alone, and in {adjusted} allowing for the {family} pairs compared",
		"of 100":     "about {n} of 100 repeats",
		"of 1000":    "about {n} of 1,000 repeats",
		"hardly any": "fewer than 1 of 1,000 repeats",
		"nearly all": "nearly every repeat",
		"drawn":      " (from arrangements drawn at random, give or take {error} of 100)",
		"drawn few":  " (from arrangements drawn at random)",

		// What that says.
		"differs piece":    ", so these batches differ; a second batch of each, on another day, would tell about the recipe",
		"differs within":   ", so the two differ within this batch; a second batch, on another day, would tell about the recipe",
		"differs batch":    ", so the two differ by more than the scatter of the batches",
		"differs assessor": ", so these tasters found the two different; other tasters, or other batches, may not",
		"leans":            ", which is a leaning and no more",
		"leans limit": ", which is the least that so few batches can have; within these batches a gap this wide comes up in {luck}," +
			" so they differ, and about the recipe it is a leaning",
		"none seen": ", so no difference was seen that luck could not have made",

		// What could not have been seen.
		"reach share":        "; only a gap like all against {tenths} in 10 had a good chance (80 of 100) to show",
		"reach share widest": "; only a gap like all against hardly any had a good chance (80 of 100) to show",
		"reach size":         "; only a gap of about {size} had a good chance (80 of 100) to show",
		"reach never":        "; {n} are too few for any gap, however wide, to show",
		"needed":             ", and to show the one that was seen would have taken about {n} of each",
		"needed more":        ", and to show the one that was seen would have taken more than {n} of each",
		"needed pairs":       ", and to show the one that was seen would have taken about {n}",
		"needed pairs more":  ", and to show the one that was seen would have taken more than {n}",
		"against":            "{n} against {m}",
		"tenths":             "{n} in 10",

		// What it is evidence about.
		"confounded":  "; the two differ in several things at once ({factors}), so nothing can be put down to one of them",
		"same recipe": ", though nothing that was noted differs between them",

		// Nothing to compare.
		"neither read":  "“{measure}” was read for neither {of} nor {against}, so there is nothing to compare",
		"not read":      "“{measure}” was not read for {missing}, so there is nothing to compare with {other}",
		"all set aside": "Every reading of “{measure}” for {missing} was set aside, so there is nothing to compare with {other}",
		"one reading":   "“{measure}” was read once for {missing}, which is an anecdote and is not held against {other}",
		"no pair":       "No taster judged “{measure}” of both {of} and {against}, so there is nothing to compare",
		"one pair":      "Only one taster judged “{measure}” of both {of} and {against}, and one opinion is no comparison",
		"alike":         "“{measure}”{aside} was the same every time, {x}, for {of} and {against}, so no difference was seen",
		"alike pairs":   "“{measure}”{aside} was the same for {of} and {against} in each of {n}, so no difference was seen",

		// Set aside and put back.
		"changes":          " With what was set aside put back the answer is another: {answer}.",
		"changes luck":     " With what was set aside put back the answer is another: {answer} (a gap as wide comes up in {luck} by luck alone).",
		"answer differs":   "a difference",
		"answer leans":     "a leaning",
		"answer none":      "no difference seen",
		"answer nothing":   "nothing to compare",
		"and":              "{list} and {last}",
		"piece":            "{n} piece",
		"pieces":           "{n} pieces",
		"batch":            "{n} batch",
		"batches":          "{n} batches",
		"pairs of batches": "{n} pairs of batches",
		"taster":           "{n} taster", "tasters": "{n} tasters",
		"answer": "{n} answer", "answers": "{n} answers",
		"end": ".",

		// Names in tables.
		"test " + string(FisherTest):      "Fisher’s exact test",
		"test " + string(PermutationTest): "permutation test",
		"test " + string(BlockedTest):     "permutation test within batches",
		"test " + string(StratifiedTest):  "exact Mantel-Haenszel test",
		"test " + string(BatchTest):       "permutation test of batches",
		"test " + string(BatchPairTest):   "sign-flip test of pairs of batches",
		"test " + string(SignedRankTest):  "signed-rank test",
		"test " + string(SignFlipTest):    "sign-flip test",
		"test " + string(SignTest):        "sign test",
		"test " + string(BinomialTest):    "exact binomial test",
		"test " + string(FriedmanTest):    "Friedman’s test, exact",
		"test " + string(CochranTest):     "Cochran’s Q, exact",
		"test drawn":                      "{test}, arrangements drawn at random (p ± {error})",
		"unit piece":                      "pieces",
		"unit batch":                      "batches",
		"unit pair of batches":            "pairs of batches",
		"unit assessor":                   "tasters",
		"unit set":                        "answers",
		"points":                          "{n} points",
		"rank sums":                       "{n} in rank sums",

		// Several samples before the same tasters.
		"panel seen":      "{n} judged “{measure}”{aside} of all {k} samples",
		"panel luck":      "; differences like theirs come up in {luck} by luck alone",
		"panel differs":   ", so they found the samples different",
		"panel leans":     ", which is a leaning and no more",
		"panel none":      ", so no difference between the samples was seen",
		"panel alike":     ", and told none of them apart",
		"panel nothing":   "Too few tasters judged “{measure}” of all {k} samples to compare them",
		"panel critical":  "; two rank sums differ when they are {critical} or more apart",
		"panel sums":      " ({sums})",
		"panel sum":       "{letter} {sum}",
		"panel left out":  "; {n} who did not judge every sample are left out",
		"panel left out1": "; one who did not judge every sample is left out",

		// Discrimination tests and preferences.
		"picked":            "{right} of {n} in “{measure}” were right",
		"guessing":          "; by guessing alone so many are right in {luck}",
		"guessing critical": ", and it takes {critical} to be significant at 5 %",
		"told apart":        ", so some of these tasters can tell {of} and {against} apart",
		"perhaps apart":     ", which leans towards telling {of} and {against} apart and no more",
		"not told apart":    ", so nobody was shown to tell {of} and {against} apart",
		"apart reach":       ", which does not make them alike: only if {tenths} in 10 can really tell had so many answers a good chance (80 of 100) to show it",
		"apart never":       ", which does not make them alike: so few answers could not have shown it if everybody could tell",
		"discriminators":    "; that fits about {tenths} in 10 who really can, and from {low} to {high} in 10 are within the 95 % interval",
		"repeated":          "; some answered more than once, so this speaks of these {n} and not of tasters at large, and gives no interval",
		"one answer":        "{n} to “{measure}” is too few to say anything",
		"no answer":         "Nobody answered “{measure}”, so there is nothing to say",
		"preferred in":      "In {right} of {n} to “{measure}” {of} was preferred to {against}",
		"preferred by":      "By {right} of {n} in “{measure}” {of} was preferred to {against}",
		"coin":              "; a coin would split as unevenly in {luck}",
		"preference":        ", so these tasters prefer {winner}",
		"perhaps prefers":   ", which leans towards {winner} and no more",
		"no preference":     ", so no preference was shown",
		"preference reach":  "; only if {tenths} in 10 have a preference, all the same one, had so many answers a good chance (80 of 100) to show it",
		"preference never":  "; so few answers could not have shown it if everybody had the same preference",
		"one vote":          "; whoever answered more than once counts once, with the answer given more often",
		"undecided":         ", and {n} who chose each as often not at all",
		// What the findings say to the verdict.
		"support carried":     "What was counted and measured carries this verdict.",
		"support in part":     "What was counted and measured carries this verdict in part: {reasons}.",
		"support not carried": "This is the cooks’ own judgment, and a fair one to make; what was counted and measured does not carry it yet: {reasons}.",
		"because carried":     "“{measure}” differs",
		"because leans":       "“{measure}” only leans that way",
		"because confounded":  "“{measure}” differs, but so do several things between the samples",
		"because some":        "“{measure}” differs from some of the other samples and not from all",
		"because told apart":  "“{measure}” shows that the samples can be told apart, and not which one is better",
		"because other way":   "“{measure}” points the other way",
		"because none":        "“{measure}” shows no difference that luck would not make",
		"because nothing":     "for “{measure}” there is nothing to compare",
		"two things":          "; the two differ in several things at once ({factors}), so nobody can say which of them it was",
	}
}
