"""The commands, one a module: arguments in, words on the terminal and an exit status out."""
