package picture

import "image"

// Size is a size in which a page offers a picture, in pixels.
type Size struct{ Width, Height int }

// Sizes returns the sizes that Make gives a picture for widths in rising order. None
// is wider than the picture, whose own width stands in for the first step that is
// wider; and none is less than a quarter wider than the one before it, which a reader
// would not see. Make(data, size.Width) makes exactly that size.
func Sizes(info Info, widths ...int) []Size {
	whole := image.Pt(info.Width, info.Height)
	return steps(whole, widths, func(width int) image.Point { return fitted(whole, width) })
}

// CroppedSizes is Sizes for MakeCropped: every size has the shape across : down, to
// the nearest pixel. MakeCropped(data, size.Width, size.Height) makes exactly that
// size.
func CroppedSizes(info Info, across, down int, widths ...int) []Size {
	whole := image.Pt(info.Width, info.Height)
	return steps(whole, widths, func(width int) image.Point {
		_, size := cropped(whole, image.Pt(width, max(1, scaled(down, width, across))))
		return size
	})
}

// steps goes through the widths until the picture's own size is reached.
func steps(whole image.Point, widths []int, of func(width int) image.Point) []Size {
	var sizes []Size
	if whole.X < 1 || whole.Y < 1 {
		return nil
	}
	for _, width := range widths {
		size := of(width)
		if n := len(sizes); n > 0 && 4*size.X < 5*sizes[n-1].Width {
			continue
		}
		sizes = append(sizes, Size{Width: size.X, Height: size.Y})
	}
	return sizes
}

// fitted is the size that a whole picture gets where a width is asked for.
func fitted(whole image.Point, width int) image.Point {
	width = min(width, whole.X)
	return image.Pt(width, max(1, scaled(whole.Y, width, whole.X)))
}

// cropped is the largest part of a picture that has the shape asked for, and the size
// that this part gets: the one asked for, or its own where that is smaller.
func cropped(whole, asked image.Point) (part, size image.Point) {
	part = whole
	if whole.X*asked.Y > whole.Y*asked.X { // too wide
		part.X = max(1, scaled(asked.X, whole.Y, asked.Y))
	} else {
		part.Y = max(1, scaled(asked.Y, whole.X, asked.X))
	}
	if part.X < asked.X || part.Y < asked.Y {
		return part, part
	}
	return part, asked
}
