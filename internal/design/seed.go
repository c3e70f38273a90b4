package design

import (
	"crypto/sha256"
	"math/rand/v2"
	"strings"
)

// Seed is where the draws of a plan start: the same seed gives the same codes and
// orders. It is no secret.
type Seed [sha256.Size]byte

// SeedOf makes a seed of words, such as a trial's name and a number.
func SeedOf(words ...string) Seed {
	return sha256.Sum256([]byte(strings.Join(words, "\x00")))
}

// For returns a seed of its own for one purpose, so that a draw that is added for
// one thing changes no other.
func (s Seed) For(purpose string) Seed {
	return sha256.Sum256(append(s[:], purpose...))
}

func (s Seed) rand() *rand.Rand { return rand.New(rand.NewChaCha8(s)) }
