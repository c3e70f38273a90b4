package page

import "html/template"

// HTML is a piece of a page that was made elsewhere and is taken as it stands:
// prose, a drawing, highlighted source. Whoever makes one answers for its being
// safe.
type HTML = template.HTML
