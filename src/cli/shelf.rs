//! Finds guides: shipped ones, the shop's own folder over them, or a file by its path.

use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::failure::Failure;
use super::folders::Folders;
use super::settings::Settings;
use crate::check::{Checked, check_file};
use crate::finding::{Severity, Source, did_you_mean};
use crate::guide::document::Shelf;
use crate::guide::{Guide, Library};
use crate::reckon::{Data, DataFile};

/// Bytes of a guide file that are read at most; the reader refuses what is longer than it takes.
const MOST_BYTES: u64 = (1 << 20) + 1;

/// Returns the library with the shop's own folder laid over it.
pub(super) fn library(settings: &Settings) -> Result<Library, Failure> {
    let mut library = Library::shipped();
    if let Some(folder) = own_folder(settings)? {
        lay_over(&mut library, &folder)?;
    }
    Ok(library)
}

/// Returns the shop's own guides folder: the one that is set, which must be there, else the usual one.
fn own_folder(settings: &Settings) -> Result<Option<PathBuf>, Failure> {
    match &settings.guides {
        Some(folder) if !folder.is_dir() => {
            Err(Failure::usage(format!("there is no folder {}", folder.display())).help("`--guides` wants a folder"))
        }
        Some(folder) => Ok(Some(folder.clone())),
        None => Ok(settings.folders.as_ref().map(Folders::guides)),
    }
}

/// Returns the figures that reckonings use, with the shop's own files in its folder's `data/` laid over them.
///
/// Where there is no such folder it costs one look. A file is read here and made sense of where its figures are used.
pub(super) fn data(settings: &Settings) -> Result<Data, Failure> {
    Ok(figures(settings)?.iter().fold(Data::shipped(), |data, (file, source)| data.with(*file, source)))
}

/// Returns the shop's own files of figures.
pub(super) fn figures(settings: &Settings) -> Result<Vec<(DataFile, Arc<Source>)>, Failure> {
    let mut figures = Vec::new();
    for (name, file, path) in own_data(settings)? {
        let Some(file) = file else {
            let names = DataFile::ALL.map(DataFile::name);
            let failure = Failure::usage(format!("{} is no file of figures", path.display()));
            return Err(failure.help(format!("they are {}", names.join(", "))).maybe_help(did_you_mean(&name, names)));
        };
        let source = read(&path)?;
        if source.text().len() as u64 >= MOST_BYTES {
            return Err(Failure::usage(format!("{} is longer than 1 MiB", path.display())));
        }
        figures.push((file, source));
    }
    Ok(figures)
}

/// Tells which file of figures a path leads to, if it lies in a folder `data`.
pub(super) fn figures_at(path: &Path) -> Option<DataFile> {
    let is_in_data = path.parent().and_then(Path::file_name).is_some_and(|folder| folder == "data");
    DataFile::ALL.into_iter().find(|file| is_in_data && path.file_name().is_some_and(|name| name == file.name()))
}

/// Returns the files of figures in the shop's own `data/`: the name, which it is if it is one, and where it lies.
pub(super) fn own_data(settings: &Settings) -> Result<Vec<(String, Option<DataFile>, PathBuf)>, Failure> {
    let Some(folder) = own_folder(settings)? else { return Ok(Vec::new()) };
    let named = |(stem, path): (String, PathBuf)| {
        let name = format!("{stem}.toml");
        (name.clone(), DataFile::ALL.into_iter().find(|file| file.name() == name), path)
    };
    Ok(files(&folder, "data").into_iter().map(named).collect())
}

/// Lays the files of a folder's `kits/`, `procedures/` and `trouble/` over a library.
fn lay_over(library: &mut Library, folder: &Path) -> Result<(), Failure> {
    for (name, shelf) in [("kits", Shelf::Guide), ("procedures", Shelf::Procedure), ("trouble", Shelf::Trouble)] {
        for (stem, path) in files(folder, name) {
            library.add(shelf, &stem, read(&path)?);
        }
    }
    Ok(())
}

/// Returns the TOML files of a shelf in a folder, by name: each stem, and where it lies.
fn files(folder: &Path, shelf: &str) -> Vec<(String, PathBuf)> {
    let Ok(entries) = folder.join(shelf).read_dir() else { return Vec::new() };
    let mut paths: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    paths.sort();
    // A link that leads out of the folder is not followed: a stranger's guides read only their own folder.
    let root = folder.canonicalize();
    let is_own = |path: &PathBuf| {
        let real = path.canonicalize();
        path.is_file() && real.is_ok_and(|real| root.as_ref().is_ok_and(|root| real.starts_with(root)))
    };
    let toml = |path: PathBuf| {
        let stem = path.file_stem()?.to_str()?.to_owned();
        (path.extension()? == "toml").then_some((stem, path))
    };
    paths.into_iter().filter(is_own).filter_map(toml).collect()
}

/// Reads a file as a source; what is not UTF-8 is refused.
pub(super) fn read(path: &Path) -> Result<Arc<Source>, Failure> {
    let file = std::fs::File::open(path).map_err(|wrong| Failure::file(path, "read", wrong))?;
    source(&path.display().to_string(), file)
}

/// Reads a file as a source, or the input where it is called `-`.
pub(super) fn read_or_input(path: &Path) -> Result<Arc<Source>, Failure> {
    if path == Path::new("-") { source("-", std::io::stdin().lock()) } else { read(path) }
}

fn source(name: &str, from: impl Read) -> Result<Arc<Source>, Failure> {
    let mut bytes = Vec::new();
    let read = from.take(MOST_BYTES).read_to_end(&mut bytes);
    read.map_err(|wrong| Failure::usage(format!("cannot read {name}: {wrong}")))?;
    let text = String::from_utf8(bytes).map_err(|wrong| {
        let line = 1 + wrong.as_bytes()[..wrong.utf8_error().valid_up_to()].iter().filter(|b| **b == b'\n').count();
        Failure::usage(format!("{name}:{line}: this is not UTF-8 text")).help("save the file as UTF-8")
    })?;
    Ok(Source::new(name, text))
}

/// Returns the file that a GUIDE argument names, with the library to link it against.
pub(super) fn find(settings: &Settings, guide: &str) -> Result<(Library, Arc<Source>), Failure> {
    let (library, source) = by_name(settings, guide, |library, id| {
        library.guide(id).or_else(|| library.procedure(id)).or_else(|| library.trouble(id))
    })?;
    match source {
        Some(source) => Ok((library, source)),
        None => {
            let help = did_you_mean(guide, library.guide_ids().chain(library.trouble_ids()));
            let failure =
                Failure::usage(format!("there is no guide `{guide}`")).help("`stepjig list` shows what there is");
            Err(failure.maybe_help(help))
        }
    }
}

/// Tells whether there is a guide, a procedure or a fault table of that id.
pub(super) fn is_known(settings: &Settings, id: &str) -> Result<bool, Failure> {
    let library = library(settings)?;
    let is = |mut ids: Box<dyn Iterator<Item = &str> + '_>| ids.any(|known| known == id);
    Ok(is(Box::new(library.guide_ids())) || is(Box::new(library.procedure_ids())) || library.has_trouble(id))
}

/// Returns the file of a fault table that is named by its id or path, if there is one.
pub(super) fn table(settings: &Settings, table: &str) -> Result<(Library, Option<Arc<Source>>), Failure> {
    by_name(settings, table, Library::trouble)
}

/// Tells whether a name is a path, and not an id.
pub(super) fn is_path(name: &str) -> bool {
    name.ends_with(".toml") || name.contains(['/', '\\'])
}

/// Returns the folder whose shelves lie over the others for a file: its own, or the one above where it is a shelf.
fn beside(path: &Path) -> &Path {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let root = if folder.file_name().is_some_and(|name| name == "kits" || name == "trouble") {
        folder.parent().unwrap_or(folder)
    } else {
        folder
    };
    if root.as_os_str().is_empty() { Path::new(".") } else { root }
}

/// Returns the files that a guide file may be linked against, the shipped ones left out.
pub(super) fn linked_against(settings: &Settings, file: &Path) -> Result<Vec<PathBuf>, Failure> {
    let folders = own_folder(settings)?.into_iter().chain([beside(file).to_owned()]);
    let of_folder = |folder: PathBuf| ["procedures", "trouble"].map(|shelf| files(&folder, shelf));
    Ok(folders.flat_map(of_folder).flatten().map(|(_, path)| path).collect())
}

/// Returns the file of that id in the shop's own folder, if there is one.
pub(super) fn own_file(settings: &Settings, id: &str) -> Result<Option<PathBuf>, Failure> {
    let Some(folder) = own_folder(settings)? else { return Ok(None) };
    let mut all = ["kits", "procedures", "trouble"].into_iter().flat_map(|shelf| files(&folder, shelf));
    Ok(all.find(|(stem, _)| stem == id).map(|(_, path)| path))
}

fn by_name(
    settings: &Settings,
    name: &str,
    by_id: impl Fn(&Library, &str) -> Option<Arc<Source>>,
) -> Result<(Library, Option<Arc<Source>>), Failure> {
    let mut library = library(settings)?;
    let path = Path::new(name);
    if name == "-" {
        return Ok((library, Some(read_or_input(path)?)));
    }
    if is_path(name) {
        lay_over(&mut library, beside(path))?;
        return Ok((library, Some(read(path)?)));
    }
    let found = by_id(&library, name);
    Ok((library, found))
}

/// Returns a guide that every proof holds for.
pub(super) fn sound(settings: &Settings, guide: &str) -> Result<Guide, Failure> {
    let (library, source) = find(settings, guide)?;
    sound_source(&library, &source, guide)
}

/// Returns a guide that every proof holds for, and how many warnings there are about it.
pub(super) fn walkable(settings: &Settings, guide: &str) -> Result<(Guide, usize), Failure> {
    let (library, source) = find(settings, guide)?;
    let checked = check_file(&library, &source);
    let warnings = checked.count(Severity::Warning);
    Ok((sound_of(checked, guide)?, warnings))
}

/// Returns a guide that every proof holds for, of its file and how that was named.
pub(super) fn sound_source(library: &Library, source: &Arc<Source>, guide: &str) -> Result<Guide, Failure> {
    sound_of(check_file(library, source), guide)
}

/// How many errors are told where a guide without any is wanted.
const ERRORS_TOLD: usize = 10;

fn sound_of(checked: Checked, guide: &str) -> Result<Guide, Failure> {
    let errors: Vec<String> = errors(&checked).map(crate::finding::render::one_line).collect();
    match (checked.guide.clone(), errors.len()) {
        (Some(guide), 0) => Ok(guide),
        (_, 1..) => {
            let told = &errors[..errors.len().min(ERRORS_TOLD)];
            let more = errors.len() - told.len();
            let more = if more > 0 { format!(" (and {more} more than these)") } else { String::new() };
            let message = format!("the guide has errors{more}\n{}", told.join("\n"));
            Err(Failure::usage(message).help(format!("`stepjig check {guide}` shows them all")))
        }
        (None, 0) => Err(Failure::usage(format!("{guide} is no guide: it has no `[guide]` table"))),
    }
}

fn errors(checked: &Checked) -> impl Iterator<Item = &crate::finding::Finding> {
    checked.findings.iter().filter(|finding| finding.severity() == Severity::Error)
}
