"""The commands of `lone-east`: each module has `add_parser(subparsers)` and `run(args) -> int`."""
