package chart

import (
	"fmt"
	"image/color"
	"math"
	"testing"
)

// linear undoes the sRGB transfer (IEC 61966-2-1).
func linear(c uint8) float64 {
	v := float64(c) / 255
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// contrastRatio is the one of WCAG 2.2.
func contrastRatio(a, b color.RGBA) float64 {
	luminance := func(c color.RGBA) float64 {
		return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B) + 0.05
	}
	x, y := luminance(a), luminance(b)
	return max(x, y) / min(x, y)
}

// sights are full colour vision and the three dichromacies: Machado, Oliveira and
// Fernandes 2009, doi:10.1109/TVCG.2009.113, table of severity 1.0 (values from memory;
// every row sums to 1, so that white stays white).
func sights() map[string][3][3]float64 {
	return map[string][3][3]float64{
		"full":   {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		"protan": {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
		"deutan": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
		"tritan": {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	}
}

// oklab is Ottosson's space (Björn Ottosson 2020, "A perceptual color space for image
// processing"; also CSS Color 4, section 9), of a colour as a sight sees it.
func oklab(c color.RGBA, sight [3][3]float64) [3]float64 {
	in := [3]float64{linear(c.R), linear(c.G), linear(c.B)}
	var rgb [3]float64
	for i, row := range sight {
		rgb[i] = min(max(row[0]*in[0]+row[1]*in[1]+row[2]*in[2], 0), 1)
	}
	l := math.Cbrt(0.4122214708*rgb[0] + 0.5363325363*rgb[1] + 0.0514459929*rgb[2])
	m := math.Cbrt(0.2119034982*rgb[0] + 0.6806995451*rgb[1] + 0.1073969566*rgb[2])
	s := math.Cbrt(0.0883024619*rgb[0] + 0.2817188376*rgb[1] + 0.6299787005*rgb[2])
	return [3]float64{
		0.2104542553*l + 0.7936177850*m - 0.0040720468*s,
		1.9779984951*l - 2.4285922050*m + 0.4505937099*s,
		0.0259040371*l + 0.7827717662*m - 0.8086757660*s,
	}
}

func TestInks(t *testing.T) {
	papers := map[string]color.RGBA{"light": hex("#fbfaf7"), "dark": hex("#15191b")}
	for paperName, paper := range papers {
		var inks []color.RGBA
		for i, ink := range Inks() {
			if ink.Name != inkName(i) {
				t.Errorf("ink %d is called %s", i, ink.Name)
			}
			c := hex(ink.Light)
			if paperName == "dark" {
				c = hex(ink.Dark)
			}
			inks = append(inks, c)
			if ratio := contrastRatio(c, paper); ratio < 3 {
				t.Errorf("%s on %s paper has contrast %.2f, WCAG 2.2 1.4.11 asks for 3", ink.Name, paperName, ratio)
			}
		}
		for sightName, sight := range sights() {
			for j := range inks {
				for i := range j {
					// 0.02 is about the least difference seen side by side; small areas
					// in different places need several times that.
					least := 0.09
					if j < 3 {
						least = 0.14
					}
					a, b := oklab(inks[i], sight), oklab(inks[j], sight)
					if d := math.Hypot(math.Hypot(a[0]-b[0], a[1]-b[1]), a[2]-b[2]); d < least {
						t.Errorf("%s and %s are only %.3f apart on %s paper for %s vision (want %.2f)",
							inkName(i), inkName(j), d, paperName, sightName, least)
					}
				}
			}
		}
	}
	for _, n := range neutrals() {
		for paperName, c := range map[string]color.RGBA{"light": hex(n.Light), "dark": hex(n.Dark)} {
			if n.Name != ruleName && contrastRatio(c, papers[paperName]) < 4.5 {
				t.Errorf("%s is text and has contrast %.2f on %s paper, WCAG 2.2 1.4.3 asks for 4.5",
					n.Name, contrastRatio(c, papers[paperName]), paperName)
			}
		}
	}
}

func TestPatternsDiffer(t *testing.T) {
	seen := map[string]int{}
	for i, tile := range tiles() {
		key := fmt.Sprint(tile)
		if other, ok := seen[key]; ok {
			t.Errorf("patterns %d and %d are the same", other, i)
		}
		seen[key] = i
	}
	if len(tiles()) != inkCount || len(Inks()) != inkCount {
		t.Errorf("%d patterns and %d inks, want %d of each", len(tiles()), len(Inks()), inkCount)
	}
}

// A canvas that knows no names still gets the colour.
func TestPaintIsAColour(t *testing.T) {
	for _, list := range [][]Ink{neutrals(), Inks()} {
		for _, ink := range list {
			if got, want := color.RGBAModel.Convert(plain(ink.Name)), hex(ink.Light); got != want {
				t.Errorf("%s is %v, want %v", ink.Name, got, want)
			}
		}
	}
}
