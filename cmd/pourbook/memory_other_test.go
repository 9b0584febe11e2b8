//go:build !linux

package main

func peakMemory(int) int64 { return 0 }
