//! Why the database does not keep: the browser's errors, as what can be said about them.

use indexed_db_futures::error::{DomException, Error, OpenDbError};

use crate::ports::StoreError;

/// Why the database does not keep, by the name of the browser's error.
pub fn named(name: &str) -> StoreError {
    match name {
        "QuotaExceededError" => StoreError::Full,
        "SecurityError" | "NotAllowedError" => StoreError::Refused,
        _ => StoreError::Broken,
    }
}

/// Why a request failed.
pub fn reason(error: &Error) -> StoreError {
    match error {
        Error::DomException(DomException::Other(error)) => named(&error.name()),
        // A transaction that was given up, before its last request or without a failed one: the
        // place was full when it was to be written.
        Error::DomException(DomException::AbortError(_)) | Error::MissingData(_) => {
            StoreError::Full
        }
        Error::DomException(_) | Error::Serialisation(_) | Error::Unknown(_) => StoreError::Broken,
    }
}

/// Why the database was not opened.
pub fn refused(error: &OpenDbError) -> StoreError {
    match error {
        OpenDbError::Base(error) => reason(error),
        OpenDbError::VersionZero
        | OpenDbError::UnsupportedEnvironment
        | OpenDbError::NullFactory => StoreError::Refused,
    }
}
