package linkeddata

import (
	"fmt"
	"regexp"
	"strconv"
)

// Recipe is a recipe at its full size. https://schema.org/Recipe
type Recipe struct {
	ID          string
	Address     string
	Name        string
	Description string
	By          Maker
	Published   string   // a day
	Images      []string // addresses
	Yield       string   // "12 pancakes"
	Ingredients []string // a line each, with its amount
	Steps       []Step
	PrepTime    string // ISO 8601 durations, as "PT20M"; may be empty
	CookTime    string
	TotalTime   string
	Keywords    []string
	Language    string
	Nutrition   *Nutrition // nil: not known
	BasedOn     string     // the address of the trial that it comes from
}

// Step is one instruction. Address leads to it on the page; it may be empty.
type Step struct {
	Text    string
	Address string
}

// Nutrition is what one serving holds, each number with its unit as schema.org
// writes it: "130 kcal", "2.5 g", "180 mg". https://schema.org/NutritionInformation
type Nutrition struct {
	ServingSize  string // "1 pancake"
	Calories     string // the one that must be there
	Fat          string
	Saturated    string
	Unsaturated  string
	Trans        string
	Cholesterol  string
	Sodium       string
	Carbohydrate string
	Fibre        string
	Sugar        string
	Protein      string
	Notes        string // how the figures were made, and what they leave out; may be empty
}

func (r Recipe) node() (node, error) {
	if err := need("Recipe", "name", r.Name); err != nil {
		return nil, err
	}
	n := typed("Recipe")
	n.set("@id", r.ID)
	n.set("url", r.Address)
	n.set("name", r.Name)
	n.set("description", r.Description)
	n.nodes("author", r.By.nodes())
	n.set("datePublished", r.Published)
	n.list("image", r.Images)
	n.set("recipeYield", r.Yield)
	n.list("recipeIngredient", r.Ingredients)
	n.set("inLanguage", r.Language)
	n.list("keywords", r.Keywords)
	if err := r.times(n); err != nil {
		return nil, err
	}
	var steps []node
	for i, s := range r.Steps {
		if err := need("HowToStep", "text", s.Text); err != nil {
			return nil, err
		}
		step := typed("HowToStep")
		step["position"] = i + 1
		step.set("text", s.Text)
		step.set("url", s.Address)
		steps = append(steps, step)
	}
	n.nodes("recipeInstructions", steps)
	if r.Nutrition != nil {
		food, err := r.Nutrition.node()
		if err != nil {
			return nil, err
		}
		n["nutrition"] = food
	}
	n.set("isBasedOn", r.BasedOn)
	return n, nil
}

// times writes the durations. What takes the whole time cannot be shorter than a
// part of it.
func (r Recipe) times(n node) error {
	whole, given, err := duration(r.TotalTime)
	if err != nil {
		return err
	}
	for _, part := range []string{r.PrepTime, r.CookTime} {
		took, _, err := duration(part)
		if err != nil {
			return err
		}
		if given && took > whole {
			return fmt.Errorf("linked data: %s in all, of which %s", r.TotalTime, part)
		}
	}
	n.set("prepTime", r.PrepTime)
	n.set("cookTime", r.CookTime)
	n.set("totalTime", r.TotalTime)
	return nil
}

// node is the nutrition of one serving. The property is called calories for every
// unit of energy.
func (f Nutrition) node() (node, error) {
	if err := need("NutritionInformation", "calories", f.Calories); err != nil {
		return nil, err
	}
	n := typed("NutritionInformation")
	n.set("servingSize", f.ServingSize)
	n.set("calories", f.Calories)
	n.set("fatContent", f.Fat)
	n.set("saturatedFatContent", f.Saturated)
	n.set("unsaturatedFatContent", f.Unsaturated)
	n.set("transFatContent", f.Trans)
	n.set("cholesterolContent", f.Cholesterol)
	n.set("sodiumContent", f.Sodium)
	n.set("carbohydrateContent", f.Carbohydrate)
	n.set("fiberContent", f.Fibre)
	n.set("sugarContent", f.Sugar)
	n.set("proteinContent", f.Protein)
	n.set("description", f.Notes)
	return n, nil
}

// durationPattern is what Duration writes; six digits are more than a year of hours.
var durationPattern = regexp.MustCompile(`^PT(?:([0-9]{1,6})H)?(?:([0-9]{1,6})M)?(?:([0-9]{1,6})S)?$`)

// Duration writes whole seconds as ISO 8601 has it (4.4.3.2): 90 min is PT1H30M. Of
// nothing or less there is no duration: the text is empty.
func Duration(seconds int64) string {
	if seconds <= 0 {
		return ""
	}
	text := "PT"
	for _, part := range []struct {
		n    int64
		unit string
	}{{seconds / 3600, "H"}, {seconds / 60 % 60, "M"}, {seconds % 60, "S"}} {
		if part.n > 0 {
			text += fmt.Sprint(part.n) + part.unit
		}
	}
	return text
}

// duration reads what Duration writes, in seconds; an empty text is none.
func duration(text string) (seconds int, given bool, err error) {
	if text == "" {
		return 0, false, nil
	}
	parts := durationPattern.FindStringSubmatch(text)
	if parts == nil || text == "PT" {
		return 0, false, fmt.Errorf("linked data: %q is no ISO 8601 duration of hours, minutes and seconds", text)
	}
	for i, unit := range []int{3600, 60, 1} {
		if parts[i+1] == "" {
			continue
		}
		n, err := strconv.Atoi(parts[i+1])
		if err != nil {
			return 0, false, err
		}
		seconds += n * unit
	}
	return seconds, true, nil
}
