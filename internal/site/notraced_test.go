//go:build !race

package site

const raced = false
