//! Arguments and configuration in, exit status out.

fn main() -> std::process::ExitCode {
    noonwater::cli::run()
}
