// Package browser holds the checks of finished pages, and no code that anything
// runs: the demo is published, served on this machine and looked at as readers'
// browsers see it, in light and dark, on a phone and wide, on paper and without
// scripts, and by checkers from outside.
//
// The checks run where the environment variable SIDEBATCH_BROWSER is "required";
// then a missing browser, Java or checker is a failure. Each check is also run on
// a small bad page, so that it has been seen to fail. It judges pages as they
// are and knows nothing of trials: whether a number on a page is right is for the
// room that computed it.
package browser
