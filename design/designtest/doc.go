// Package designtest holds the cases and springs that tests of several packages share.
package designtest
