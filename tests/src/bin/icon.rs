//! Remakes the program's picture in `app/assets`: `cargo run -p acceptance --bin icon`.

use std::path::Path;

use acceptance::icon;

/// Sides of the PNG files, pixels: those a desktop looks for.
const SIDES: [u32; 6] = [16, 32, 48, 64, 128, 256];

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../app/assets");
    std::fs::create_dir_all(&folder)?;
    std::fs::write(folder.join("seatwell.svg"), icon::svg())?;
    for side in SIDES {
        icon::png(side).save(folder.join(format!("seatwell-{side}.png")))?;
    }
    println!("{} pictures in {}", SIDES.len() + 1, folder.display());
    Ok(())
}
