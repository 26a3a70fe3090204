//! The notebook in the browser's database, by the very file the page uses, for a script that
//! measures it.

#[path = "../../app/page/src/browser/notebooks.rs"]
mod notebooks;

use js_sys::{Array, Function, Reflect};
use session::notebook::file::{self, File};
use session::notebook::{Record, shelves};
use session::rolls::{Listed, Only, find, listed};
use wasm_bindgen::prelude::wasm_bindgen;
use wasm_bindgen::{JsCast, JsValue};

use crate::made;
use crate::ports::{Kept, Notebooks, Shelf, StoreError};
use notebooks::Database;

/// What the file of the database asks its neighbours for.
mod events {
    /// It is the usual database.
    pub fn is_demo() -> bool {
        false
    }
}

fn window() -> web_sys::Window {
    js_sys::global().unchecked_into()
}

fn call(of: &JsValue, name: &str, arguments: &[JsValue]) -> Option<JsValue> {
    let method: Function = property(of, name)?.dyn_into().ok()?;
    method.apply(of, &arguments.iter().collect::<Array>()).ok()
}

fn property(of: &JsValue, name: &str) -> Option<JsValue> {
    let value = Reflect::get(of, &name.into()).ok();
    value.filter(|value| !value.is_undefined() && !value.is_null())
}

fn failed(error: StoreError) -> JsValue {
    format!("{error:?}").into()
}

/// A notebook of rolls in memory, and the database.
#[wasm_bindgen]
#[derive(Debug)]
pub struct Notebook {
    database: Database,
    records: Vec<Record>,
    listed: Vec<Listed>,
    file: Option<File>,
}

#[wasm_bindgen]
impl Notebook {
    /// So many rolls, in memory only.
    #[wasm_bindgen(constructor)]
    pub fn new(count: u32) -> Self {
        let records = made::rolls(count);
        let listed = listed(&records, &[]);
        Self { database: Database::new(), records, listed, file: None }
    }

    /// The rolls as JSON, for another store to keep.
    pub fn texts(&self) -> Array {
        self.records.iter().map(|record| JsValue::from(record.to_text())).collect()
    }

    /// Throws everything away that is kept.
    pub async fn erase(&self) -> Result<(), JsValue> {
        self.database.erase().await.map_err(failed)
    }

    /// Keeps every roll, in one transaction.
    pub async fn write_all(&self) -> Result<(), JsValue> {
        let text = |record: &Record| (Shelf::Records, record.id().to_owned(), record.to_text());
        let texts = self.records.iter().map(text).collect();
        self.database.keep_all(texts).await.map_err(failed)
    }

    /// Reads every roll that is kept. Says how many there are.
    pub async fn read_all(&self) -> Result<usize, JsValue> {
        let kept = self.kept(Shelf::Records).await?;
        Ok(kept.iter().filter(|(_, text)| Record::from_text(text).is_ok()).count())
    }

    /// Reads the kept rolls that have these words in them. Says how many there are.
    pub async fn find_kept(&self, words: &str) -> Result<usize, JsValue> {
        let kept = self.kept(Shelf::Records).await?;
        let found = kept.iter().filter(|(_, text)| text.contains(words));
        Ok(found.filter(|(_, text)| Record::from_text(text).is_ok()).count())
    }

    /// How many of the rolls in memory have these words in them.
    pub fn find(&self, words: &str) -> usize {
        find(&self.listed, words, Only::All).len()
    }

    /// Everything that is kept as one JSON text; gives its length.
    pub async fn export(&self) -> Result<usize, JsValue> {
        let kept = self.kept(Shelf::Records).await?;
        let texts: Vec<String> = kept.into_iter().map(|(_, text)| text).collect();
        Ok(format!("[{}]", texts.join(",")).len())
    }

    /// The file that the page hands over, made, read again and compared as the page does; gives its
    /// length.
    pub async fn file(&self) -> Result<usize, JsValue> {
        let (records, _) = shelves::gather(&self.texts_kept().await?);
        let text = file::write(records, made::now());
        let same = file::read(&text).is_ok_and(|file| file.untouched);
        Ok(if same { text.len() } else { 0 })
    }

    /// Keeps one roll so that it outlives a power cut.
    pub async fn put(&self, number: usize) -> Result<(), JsValue> {
        let Some(record) = self.records.get(number) else { return Ok(()) };
        let text = (record.id().to_owned(), record.to_text());
        self.database.keep_all(vec![(Shelf::Records, text.0, text.1)]).await.map_err(failed)
    }

    async fn kept(&self, shelf: Shelf) -> Result<Vec<Kept>, JsValue> {
        self.database.all(shelf, String::new()).await.map_err(failed)
    }

    async fn texts_kept(&self) -> Result<shelves::Texts, JsValue> {
        Ok(shelves::Texts {
            runs: self.kept(Shelf::Runs).await?,
            logs: self.kept(Shelf::Logs).await?,
            entries: self.kept(Shelf::Entries).await?,
            records: self.kept(Shelf::Records).await?,
        })
    }

    /// A file of so many rolls with their runs.
    pub fn made_file(&self, count: u32) -> String {
        file::write(made::rolls_with_runs(count), made::now())
    }

    /// Reads a file; says how many records are in it.
    pub fn file_read(&mut self, text: &str) -> usize {
        self.file = file::read(text).ok();
        self.file.as_ref().map_or(0, |file| file.records.len())
    }

    /// Reads what is kept and puts it together; says how many records there are.
    pub async fn file_gather(&mut self) -> Result<usize, JsValue> {
        self.records = shelves::gather(&self.texts_kept().await?).0;
        Ok(self.records.len())
    }

    /// Says how many records of the file that was read would be written over what was gathered.
    pub fn file_preview(&self) -> usize {
        let read = self.file.as_ref().map_or(&[] as &[Record], |file| &file.records);
        file::preview(&self.records, read).writes.len()
    }

    /// Keeps the file that was read.
    pub async fn file_keep(&self) -> Result<(), JsValue> {
        let read = self.file.as_ref().map_or(&[] as &[Record], |file| &file.records);
        let texts = shelves::scatter(read);
        let on = |shelf: Shelf| move |(key, text): Kept| (shelf, key, text);
        let mut all: Vec<_> = texts.runs.into_iter().map(on(Shelf::Runs)).collect();
        all.extend(texts.logs.into_iter().map(on(Shelf::Logs)));
        all.extend(texts.records.into_iter().map(on(Shelf::Records)));
        self.database.keep_all(all).await.map_err(failed)
    }

    /// The text of the file of what was gathered; gives its length.
    pub fn file_write(&self) -> usize {
        file::write(self.records.clone(), made::now()).len()
    }
}
