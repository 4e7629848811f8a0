//! The program: everything is in the library's `cli` module.

fn main() -> std::process::ExitCode {
    stepjig::cli::run(std::env::args_os())
}
