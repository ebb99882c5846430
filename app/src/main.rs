//! The program `seatwell`: see `seatwell --help`.

fn main() -> std::process::ExitCode {
    seatwell::command::run(std::env::args_os())
}
