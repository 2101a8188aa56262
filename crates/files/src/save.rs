use std::fs;
use std::hash::{DefaultHasher, Hasher as _};
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use atomic_write_file::AtomicWriteFile;
use ron::ser::PrettyConfig;

use crate::file::{DesignFile, FORMAT, OnDisk};
use crate::read::{ReadError, later_format, options, read_bytes};

/// Why a design was not saved. The file on disk is then what it was before.
#[derive(Debug, thiserror::Error)]
pub enum SaveError {
    /// It makes no sense as a design, and could not be read back.
    #[error("not saved, {place}: {says}")]
    Nonsense {
        /// The key, or the name of a list.
        place: String,
        /// What was found and what was expected.
        says: String,
    },
    /// The file is of a later version of the program, which may know more than this one.
    #[error(
        "not saved: the file was written by a later version (format {found}, this one knows up to {known}); save under another name"
    )]
    LaterVersion {
        /// Its format.
        found: u64,
        /// The latest that is known here.
        known: u64,
    },
    /// The file is not what it was when it was last read or saved here.
    #[error("not saved: the file was changed from elsewhere since it was last read")]
    ChangedOnDisk,
    /// Something stands there that is no file.
    #[error("not saved: expected a file or nothing there, found something else: {}", path.display())]
    NotAFile {
        /// The place.
        path: PathBuf,
    },
    /// The system refuses.
    #[error("not saved, cannot {doing}: {source}: {}", path.display())]
    Io {
        /// What was being done.
        doing: &'static str,
        /// What the system says.
        source: io::Error,
        /// The file.
        path: PathBuf,
    },
}

impl SaveError {
    /// The file, where the words of the error name it.
    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::NotAFile { path } | Self::Io { path, .. } => Some(path),
            Self::Nonsense { .. } | Self::LaterVersion { .. } | Self::ChangedOnDisk => None,
        }
    }
}

/// What a file held when it was last seen, to notice that it has been changed from
/// elsewhere. Only the content counts: a file that was touched or copied back has not
/// changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp {
    length: u64,
    hash: u64,
}

impl Stamp {
    fn of(bytes: &[u8]) -> Self {
        let mut hasher = DefaultHasher::new();
        hasher.write(bytes);
        Self { length: bytes.len() as u64, hash: hasher.finish() }
    }
}

/// The stamp of a file as it is now.
///
/// # Errors
/// [`ReadError::Io`] if it cannot be read, [`ReadError::TooLarge`].
pub fn stamp(path: &Path) -> Result<Stamp, ReadError> {
    Ok(Stamp::of(&read_bytes(path)?))
}

const HEAD: &str = "// Overstand design file. Lengths in millimetres, angles in degrees.\n";

/// The text of a design file.
///
/// A file with [faults](DesignFile::faults) may have none, as with a length that is not
/// a number; the text is then a comment that says so. [`save`] refuses such a file.
pub fn write(file: &DesignFile) -> String {
    text_of(file).unwrap_or_else(|error| format!("{HEAD}// not written: {error}\n"))
}

fn text_of(file: &DesignFile) -> Result<String, ron::Error> {
    let on_disk =
        OnDisk { format: FORMAT, active: file.active.clone(), variants: file.variants.as_slice() };
    let style = PrettyConfig::new()
        .new_line("\n")
        .escape_strings(false)
        // down to the fields of a part; each string and each kind keeps to one line
        .depth_limit(4);
    let text = options().to_string_pretty(&on_disk, style)?;
    Ok(format!("{HEAD}{text}\n"))
}

/// Saves a design file: wholly or not at all, also when the power fails.
///
/// A link is followed, and the permissions of a file that exists are kept.
///
/// # Errors
/// [`SaveError`]; what stood there before still does.
pub fn save(path: &Path, file: &DesignFile) -> Result<(), SaveError> {
    put(path, file, |_| Ok(())).map(|_| ())
}

/// Saves a design file if what is on disk is still what `known` was made of, and
/// returns the stamp of what is there now. Without a stamp, if there is no file yet.
///
/// A file that has vanished since is written anew: nothing is lost by it.
///
/// # Errors
/// [`SaveError::ChangedOnDisk`] if something else stands there; else as [`save`].
pub fn save_if_unchanged(
    path: &Path,
    file: &DesignFile,
    known: Option<&Stamp>,
) -> Result<Stamp, SaveError> {
    put(path, file, |there| {
        if known == Some(&Stamp::of(there)) { Ok(()) } else { Err(SaveError::ChangedOnDisk) }
    })
}

/// Writes the file unless `agrees` refuses what stands there now.
fn put(
    path: &Path,
    file: &DesignFile,
    agrees: impl FnOnce(&[u8]) -> Result<(), SaveError>,
) -> Result<Stamp, SaveError> {
    let failed = |doing| move |source| SaveError::Io { doing, source, path: path.to_owned() };
    if let Some((_, fault)) = file.faults().into_iter().next() {
        return Err(SaveError::Nonsense { place: fault.place, says: fault.says });
    }
    let target = follow(path).map_err(failed("follow the link"))?;
    match fs::metadata(&target) {
        Ok(there) if !there.is_file() => {
            return Err(SaveError::NotAFile { path: path.to_owned() });
        }
        Ok(_) => match read_bytes(&target) {
            Ok(bytes) => {
                agrees(&bytes)?;
                if let Some(found) = later_format(&String::from_utf8_lossy(&bytes)) {
                    return Err(SaveError::LaterVersion { found, known: FORMAT });
                }
            }
            Err(ReadError::Io { source, .. }) => {
                return Err(failed("read what is there")(source));
            }
            // too large for a design of any version
            Err(_) => return Err(SaveError::NotAFile { path: path.to_owned() }),
        },
        Err(error) if error.kind() == io::ErrorKind::NotFound => {}
        Err(error) => return Err(failed("look there")(error)),
    }
    let text = text_of(file).map_err(|error| SaveError::Nonsense {
        place: "the file".to_owned(),
        says: error.to_string(),
    })?;
    replace(&target, text.as_bytes()).map_err(|(doing, source)| failed(doing)(source))?;
    Ok(Stamp::of(text.as_bytes()))
}

/// Writes a file wholly or not at all; what failed, if it did.
fn replace(target: &Path, bytes: &[u8]) -> Result<(), (&'static str, io::Error)> {
    let failed = |doing| move |source| (doing, source);
    let mut new = AtomicWriteFile::open(target).map_err(failed("write there"))?;
    // synced before it takes the old one's place, so that a full disk leaves nothing
    // behind; `commit` syncs the folder as well
    new.write_all(bytes).and_then(|()| new.sync_all()).map_err(failed("write"))?;
    new.commit().map_err(failed("put it in its place"))
}

/// Writes something that was made from a design, as a drawing: wholly or not at all. What is
/// there already is written over only when `over` is set.
///
/// # Errors
/// [`SaveError::ChangedOnDisk`] if something is there that shall stay,
/// [`SaveError::NotAFile`], [`SaveError::Io`]; what stood there before still does.
pub fn write_out(path: &Path, bytes: &[u8], over: bool) -> Result<(), SaveError> {
    let failed = |doing| move |source| SaveError::Io { doing, source, path: path.to_owned() };
    let target = follow(path).map_err(failed("follow the link"))?;
    match fs::metadata(&target) {
        Ok(there) if !there.is_file() => Err(SaveError::NotAFile { path: path.to_owned() }),
        Ok(_) if !over => Err(SaveError::ChangedOnDisk),
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(failed("look there")(error)),
        _ => replace(&target, bytes).map_err(|(doing, source)| failed(doing)(source)),
    }
}

/// The file that a path means: where a link leads, even if nothing stands there yet.
fn follow(path: &Path) -> io::Result<PathBuf> {
    /// As many as Linux follows.
    const MOST_LINKS: usize = 40;
    let mut target = path.to_owned();
    for _ in 0..MOST_LINKS {
        match fs::symlink_metadata(&target) {
            Ok(there) if there.is_symlink() => {
                let leads_to = fs::read_link(&target)?;
                target = target.parent().unwrap_or(Path::new("")).join(leads_to);
            }
            _ => return Ok(target),
        }
    }
    Err(io::Error::other("the link leads in a circle"))
}
