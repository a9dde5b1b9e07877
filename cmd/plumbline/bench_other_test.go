//go:build !linux

package main

import "os"

// maxResident is not measured here.
func maxResident(*os.ProcessState) int64 { return 0 }

func forgetPeak() {}
