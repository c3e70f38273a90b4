package chart

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"

	"golang.org/x/image/font/sfnt"
	"pgregory.net/rapid"

	"sidebatch.example/sidebatch/internal/testkit"
)

// paperColours are colours for share pictures: a theme's would do as well.
func paperColours() map[string]string {
	all := map[string]string{cardName: "#fffdf7", paperName: "#eee7d9", titleName: "#231f19", quietName: "#665c4c", edgeName: "#dcd2be", redName: "#a8392b"}
	for _, list := range [][]Ink{neutrals(), Inks()} {
		for _, ink := range list {
			all[ink.Name] = ink.Light
		}
	}
	return all
}

const longTitle = "Should the batter of buttermilk and oats rest overnight under a cloth, or does half an hour beside " +
	"the stove do as well for cakes that have to turn over in one piece, morning after morning, all winter long?"

func share(title string, figure Figure) Share {
	return Share{
		Title: title, Question: "Do griddle cakes from a rested oat batter turn over without tearing?",
		Kitchen: "Larch Lane", Note: "Invented data", Figure: figure, Colours: paperColours(),
	}
}

// decoded reads a picture and checks what is true of every one.
func decoded(t testing.TB, data []byte) {
	t.Helper()
	const most = 60_000
	if len(data) > most {
		t.Errorf("%d bytes (at most %d)", len(data), most)
	}
	picture, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	if got, want := picture.Bounds(), image.Rect(0, 0, ShareWidth, ShareHeight); got != want {
		t.Fatalf("the picture is %v, want %v", got, want)
	}
}

// blank reports whether a part of a picture has one colour.
func blank(picture *image.RGBA, part image.Rectangle, want color.RGBA) bool {
	for y := part.Min.Y; y < part.Max.Y; y++ {
		for x := part.Min.X; x < part.Max.X; x++ {
			if picture.RGBAAt(x, y) != want {
				return false
			}
		}
	}
	return true
}

// checkShare asks that nothing runs out of the card, and that title and figure have
// a blank strip between them: measured on the picture.
func checkShare(t testing.TB, s Share) {
	t.Helper()
	on := newSheets()
	if err := on.paint(s); err != nil {
		t.Fatal(err)
	}
	picture := on.picture()
	l, err := s.layout()
	if err != nil {
		t.Fatal(err)
	}
	card := hex(s.Colours[cardName])
	rule := int(l.rule)
	for name, part := range map[string]image.Rectangle{
		"left of the title":       image.Rect(shareSide+2, shareHead+2, shareMargin-8, rule-3),
		"right of the title":      image.Rect(ShareWidth-shareMargin+8, shareHead+2, ShareWidth-shareSide-2, rule-3),
		"above the title":         image.Rect(shareSide+2, shareHead+2, ShareWidth-shareSide-2, shareHead+10),
		"between title and rule":  image.Rect(shareSide+2, rule-6, ShareWidth-shareSide-2, rule-3),
		"between rule and figure": image.Rect(shareSide+2, rule+3, ShareWidth-shareSide-2, rule+12),
		"left of what is below":   image.Rect(shareSide+2, rule+3, shareMargin-8, ShareHeight),
		"right of what is below":  image.Rect(ShareWidth-shareMargin+8, rule+3, ShareWidth-shareSide-2, ShareHeight),
		"below everything":        image.Rect(shareSide+2, ShareHeight-shareFoot/2, ShareWidth-shareSide-2, ShareHeight),
	} {
		if !blank(picture, part, card) {
			t.Errorf("%s there is something", name)
		}
	}
	paper := hex(s.Colours[paperName])
	if !blank(picture, image.Rect(0, 0, shareSide-4, ShareHeight), paper) || !blank(picture, image.Rect(0, 0, ShareWidth, 14), paper) {
		t.Error("something runs into the paper about the card")
	}
	if blank(picture, image.Rect(shareMargin, rule+12, ShareWidth-shareMargin, ShareHeight-shareFoot/2), card) {
		t.Error("below the title there is nothing")
	}
	if last := l.title.bottom(); last > l.rule || l.title.text != nil && l.title.baseline < shareHead {
		t.Errorf("the title runs to %v, the rule is at %v", last, l.rule)
	}
	if l.figure != nil && (l.top < l.rule+20 || l.top+l.figure.height*l.scale > ShareHeight-shareFoot+1) {
		t.Errorf("the figure stands from %v, %v high", l.top, l.figure.height*l.scale)
	}
}

func TestEveryShare(t *testing.T) {
	for _, tc := range cases() {
		t.Run(tc.name, func(t *testing.T) {
			checkShare(t, share("Should a buttermilk oat batter rest?", tc.fig.(Figure)))
		})
	}
	for _, title := range []string{"", longTitle, strings.Repeat("W", 200), "煮沸的水", "Crème brûlée 🥞 – “twice”", "x"} {
		t.Run(title, func(t *testing.T) {
			checkShare(t, share(title, shares("s", 3)))
			checkShare(t, share(title, nil))
		})
	}
}

// TestBroadFigures asks of the figures on the card what is asked of those on a page:
// no text over another, nothing outside.
func TestBroadFigures(t *testing.T) {
	for _, tc := range cases() {
		t.Run(tc.name, func(t *testing.T) {
			for _, on := range []sheet{{wide: 460, broad: true}, {wide: 660, broad: true, air: 12}} {
				l, err := tc.fig.(Figure).lay(on)
				if err != nil {
					t.Fatal(err)
				}
				drawn, err := l.svg()
				if err != nil {
					t.Fatal(err)
				}
				checkSVG(t, drawn, on.wide)
			}
		})
	}
}

// A figure that is shown is large enough: its least type has 8.8 pixels where the
// picture is half its size. One with too many rows is not shown.
func TestShareScale(t *testing.T) {
	shown := 0
	for _, tc := range cases() {
		l, err := share("A title", tc.fig.(Figure)).layout()
		if err != nil {
			t.Fatal(err)
		}
		if l.figure != nil {
			shown++
			if got := l.scale * smallSize / 2; got < 8.8-1e-9 {
				t.Errorf("%s: small type has %v pixels", tc.name, got)
			}
		}
	}
	if shown < 30 {
		t.Errorf("only %d figures are shown", shown)
	}
	if fits, err := share("A title", shares("s", 12)).Fits(); fits || err != nil {
		t.Errorf("twelve rows are shown (%v)", err)
	}
	if fits, err := share(longTitle, shares("s", 3)).Fits(); !fits || err != nil {
		t.Errorf("three rows under a long title are not shown (%v)", err)
	}
}

func TestShareTitle(t *testing.T) {
	tests := []struct {
		name, in string
		lines    int
		cut      bool
	}{
		{"short", "Salt?", 1, false},
		{"two lines", "Resting the oat batter, six mornings more, and six mornings after that", 2, false},
		{"long", longTitle, 3, true},
		{"another script", "煮沸的水", 0, false},
		{"runs the other way", "שלום", 0, false},
		{"signs the font lacks", "🥞 Pancakes", 1, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			l, err := share(tt.in, shares("s", 2)).layout()
			if err != nil {
				t.Fatal(err)
			}
			got := l.title.text
			if len(got) != tt.lines || tt.cut != (len(got) > 0 && strings.HasSuffix(got[len(got)-1], "…")) {
				t.Errorf("got %q", got)
			}
		})
	}
}

func TestShareGolden(t *testing.T) {
	var easel Easel
	for _, tc := range []struct {
		name string
		in   Share
	}{
		{"share-shares", share("Should a buttermilk oat batter rest?", shares("s", 3))},
		{"share-marks", share(longTitle, marks("m", 2, 6, 97, 4))},
		{"share-question", share("Should a buttermilk oat batter rest?", nil)},
		{"share-pairs", share(longTitle, pairs("p", 3, 60))},
	} {
		t.Run(tc.name, func(t *testing.T) {
			first, err := tc.in.Draw()
			if err != nil {
				t.Fatal(err)
			}
			again, err := easel.Draw(tc.in) // on sheets that others were painted on
			if err != nil || !bytes.Equal(first, again) {
				t.Errorf("drawn twice, the bytes differ (%v)", err)
			}
			decoded(t, first)
			testkit.Golden(t, "testdata/"+tc.name+".png", first)
		})
	}
}

func TestShareRefuses(t *testing.T) {
	for name, change := range map[string]func(*Share){
		"no colours":      func(s *Share) { s.Colours = nil },
		"no card":         func(s *Share) { delete(s.Colours, cardName) },
		"no ink":          func(s *Share) { delete(s.Colours, "ink-l") },
		"a named colour":  func(s *Share) { s.Colours[redName] = "red" },
		"a short one":     func(s *Share) { s.Colours[redName] = "#f00" },
		"capital letters": func(s *Share) { s.Colours[redName] = "#FF0000" },
	} {
		s := share("A title", shares("s", 2))
		change(&s)
		if data, err := s.Draw(); !errors.Is(err, ErrColour) || data != nil {
			t.Errorf("%s: %d bytes, %v", name, len(data), err)
		}
	}
	s := share("A title", Marks{Head: head("m")})
	if data, err := s.Draw(); !errors.Is(err, ErrEmpty) || data != nil {
		t.Errorf("an empty figure: %d bytes, %v", len(data), err)
	}
}

// Each ink is on the picture in its own colour, in the chip and in the pattern.
func TestShareInks(t *testing.T) {
	for i, l := range labels(inkCount) {
		count := func(rate float64) (found int) {
			f := shares("s", 1)
			f.Samples[0].Label, f.Samples[0].Rate = l, rate
			on := newSheets()
			if err := on.paint(share("A title", f)); err != nil {
				t.Fatal(err)
			}
			runs(on.picture(), func(p pixel, n int) {
				if p.colour() == hex(Inks()[i].Light) {
					found += n
				}
			})
			return found
		}
		without, with := count(0), count(.5)
		if without < 300 || with < without+250 {
			t.Errorf("%s: %d pixels have the ink, %d with a pattern", inkName(i), without, with)
		}
	}
}

// Any title, in any letters, makes a picture.
func TestAnyShareTitle(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := share(rapid.String().Draw(r, "title"), nil)
		s.Kitchen, s.Note, s.Question = rapid.String().Draw(r, "kitchen"), rapid.StringN(0, 20, -1).Draw(r, "note"), rapid.String().Draw(r, "question")
		if _, err := s.layout(); err != nil {
			r.Fatal(err)
		}
		in := inFont(titleFont(50))
		in.outlined(in.settable(s.Title), &sfnt.Buffer{})
	})
}

// Of more than 256 colours the rare ones become their nearest neighbours.
func TestPaletted(t *testing.T) {
	picture := image.NewRGBA(image.Rect(0, 0, 64, 9))
	for i := range 512 {
		picture.Set(i%64, i/64, color.RGBA{uint8(i / 2), 0, 0, 255})
	}
	for x := range 64 {
		picture.Set(x, 8, color.RGBA{uint8(4 * x), 1, 0, 255})
	}
	got := image.NewPaletted(picture.Rect, nil)
	new(tally).index(picture, got)
	if len(got.Palette) != 256 {
		t.Fatalf("%d colours", len(got.Palette))
	}
	for y := range 9 {
		for x := range 64 {
			want := picture.RGBAAt(x, y)
			want.G = 0
			if c := color.RGBAModel.Convert(got.At(x, y)); c != want {
				t.Errorf("%v became %v", picture.RGBAAt(x, y), c)
			}
		}
	}
}

// The cost of a picture, and of asking whether there is room for its figure.
func BenchmarkShare(b *testing.B) {
	for _, bench := range []struct {
		name   string
		figure Figure
	}{{"shares", shares("s", 3)}, {"marks", marks("m", 3, 6, 80, 5)}, {"times", stacked("t", 2, 4)}, {"none", nil}} {
		s := share("Should a buttermilk oat batter rest?", bench.figure)
		b.Run(bench.name, func(b *testing.B) {
			var easel Easel
			for b.Loop() {
				if _, err := easel.Draw(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkFits(b *testing.B) {
	s := share("Should a buttermilk oat batter rest?", marks("m", 3, 6, 80, 5))
	for b.Loop() {
		if _, err := s.Fits(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFigure(b *testing.B) {
	f := marks("m", 3, 6, 80, 5)
	for b.Loop() {
		if _, err := f.Draw(); err != nil {
			b.Fatal(err)
		}
	}
}
