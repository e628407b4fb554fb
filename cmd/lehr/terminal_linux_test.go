package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"syscall"

	"golang.org/x/sys/unix"
)

func init() { scriptPrograms["terminal"] = terminal }

// terminal is a program for scripts. It runs another one with a terminal as
// /dev/tty, types a file into it and keeps in the file screen whatever came out:
//
//	terminal typed lehr glass
//	terminal -stdin typed lehr safety
//
// The one of testscript ends with the program, whether or not all was read.
func terminal() {
	args, stdin := os.Args[1:], false
	if len(args) > 0 && args[0] == "-stdin" {
		args, stdin = args[1:], true
	}
	if len(args) < 2 {
		fmt.Fprintln(os.Stderr, "usage: terminal [-stdin] <file> <program> [args]")
		os.Exit(125)
	}
	shown, err := onTerminal(args[0], stdin, args[1], args[2:]...)
	if written := os.WriteFile("screen", shown, 0o644); written != nil {
		err = written
	}
	var exit *exec.ExitError
	switch {
	case errors.As(err, &exit):
		os.Exit(exit.ExitCode())
	case err != nil:
		fmt.Fprintln(os.Stderr, "terminal:", err)
		os.Exit(125)
	}
}

// onTerminal runs a program on a terminal of its own and gives what that showed.
func onTerminal(typed string, stdin bool, name string, args ...string) ([]byte, error) {
	text, err := os.ReadFile(typed)
	if err != nil {
		return nil, err
	}
	keyboard, screen, err := openTerminal()
	if err != nil {
		return nil, err
	}
	defer keyboard.Close()
	cmd := exec.Command(name, args...)
	cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
	if stdin {
		cmd.Stdin = screen
	}
	cmd.ExtraFiles = []*os.File{screen}
	cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true, Ctty: 3}
	err = cmd.Start()
	screen.Close()
	if err != nil {
		return nil, err
	}
	go keyboard.Write(append(text, 4)) // 4 ends the input
	// Reading fails with EIO when nobody has the terminal open and all is read.
	var shown bytes.Buffer
	if _, err := io.Copy(&shown, keyboard); !errors.Is(err, syscall.EIO) {
		return shown.Bytes(), fmt.Errorf("reading the terminal: %w", err)
	}
	return shown.Bytes(), cmd.Wait()
}

// openTerminal opens both ends of a new terminal.
func openTerminal() (keyboard, screen *os.File, err error) {
	keyboard, err = os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		return nil, nil, err
	}
	fd := int(keyboard.Fd())
	n, err := unix.IoctlGetInt(fd, unix.TIOCGPTN)
	if err == nil {
		err = unix.IoctlSetPointerInt(fd, unix.TIOCSPTLCK, 0)
	}
	if err == nil {
		screen, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", n), os.O_RDWR|syscall.O_NOCTTY, 0)
	}
	if err != nil {
		keyboard.Close()
	}
	return keyboard, screen, err
}
