//! Makes pictures small.

use std::{fs, path::Path};

use serde::Serialize;
use suite::python;

/// How large it stays.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Size {
    /// As it was on the screen, as a PNG of 96 colours.
    Whole,
    /// Six tenths of it, as WebP: a few thousand bytes.
    Small,
}

#[derive(Serialize)]
struct Question<'a> {
    from: &'a Path,
    to: &'a Path,
    small: bool,
}

const SCRIPT: &str = r"
import json, sys
from PIL import Image
question = json.load(sys.stdin)
picture = Image.open(question['from']).convert('RGB')
if question['small']:
    size = (picture.width * 6 // 10, picture.height * 6 // 10)
    picture.resize(size, Image.Resampling.LANCZOS).save(question['to'], 'WEBP', quality=45, method=6)
else:
    picture.quantize(96).save(question['to'], 'PNG', optimize=True)
print(json.dumps(None))
";

/// Keeps a picture, given as the bytes of a PNG file.
pub(crate) fn keep(picture: &[u8], to: &Path, size: Size) {
    fs::create_dir_all(to.parent().unwrap_or(Path::new("."))).expect("the folder of the pictures");
    let folder = tempfile::tempdir().expect("a folder");
    let from = folder.path().join("picture.png");
    fs::write(&from, picture).expect("a file");
    let question = Question { from: &from, to, small: size == Size::Small };
    let () = python::ask(SCRIPT, &question);
}
