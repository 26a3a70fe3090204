//! The content security policy: what the page may load and run, written into the page itself,
//! because a plain static host sends no such header.

use thiserror::Error;

use crate::digest;
use crate::markup::{Tag, tags};

/// Why a page cannot be served under the policy or from any folder.
#[derive(Debug, Error, PartialEq, Eq)]
pub enum PolicyError {
    /// There is nowhere to put the policy.
    #[error("the page has no <head>")]
    NoHead,
    /// A browser would silently leave it out.
    #[error("<{tag}> has the attribute {attribute}, which the policy blocks")]
    BlockedAttribute {
        /// The element.
        tag: String,
        /// `style`, or a handler such as `onclick`.
        attribute: String,
    },
    /// A browser would silently leave it out.
    #[error("a <style> element, which the policy blocks")]
    BlockedStyle,
    /// A browser would silently leave the file out: its hash was taken before the build changed it.
    #[error(
        "<{tag}> has a hash of its file that the build changes afterwards; say data-integrity=\"none\""
    )]
    StaleHash {
        /// The element.
        tag: String,
    },
    /// It would break below a folder, or ask another origin.
    #[error("<{tag} {attribute}=\"{value}\"> does not work from every folder without a network")]
    NotRelative {
        /// The element.
        tag: String,
        /// The attribute that holds the address.
        attribute: String,
        /// The address.
        value: String,
    },
}

/// `page` with its policy as the first thing in its head, where it holds for all that follows.
///
/// # Errors
///
/// A [`PolicyError`] if the page holds something that the policy would block in silence, or an
/// address that is not relative.
pub fn insert(page: &str) -> Result<String, PolicyError> {
    let tags = tags(page);
    for tag in &tags {
        check(tag)?;
    }
    let head = tags.iter().find(|tag| tag.name == "head").ok_or(PolicyError::NoHead)?;
    let (before, after) = page.split_at(head.end);
    let policy = policy(&tags);
    Ok(format!(
        "{before}\n<meta http-equiv=\"Content-Security-Policy\" content=\"{policy}\">{after}"
    ))
}

fn policy(tags: &[Tag<'_>]) -> String {
    let inline = tags.iter().filter(|tag| tag.name == "script" && !tag.has("src"));
    let named = |script: &Tag<'_>| format!("'sha256-{}'", digest::base_64(script.text.as_bytes()));
    let scripts = ["'self'".to_owned(), "'wasm-unsafe-eval'".to_owned()].into_iter();
    let scripts: Vec<String> = scripts.chain(inline.map(named)).collect();
    // `wasm-unsafe-eval` lets the page compile its own module; `eval` of text stays blocked.
    // `connect-src` is also a promise: nothing a person writes can leave the phone by this page.
    [
        "default-src 'self'",
        &format!("script-src {}", scripts.join(" ")),
        "style-src 'self'",
        // Photos that the page itself has made are shown from memory.
        "img-src 'self' blob:",
        "connect-src 'self'",
        "object-src 'none'",
        "base-uri 'self'",
        "form-action 'none'",
    ]
    .join("; ")
}

fn check(tag: &Tag<'_>) -> Result<(), PolicyError> {
    if tag.name == "style" {
        return Err(PolicyError::BlockedStyle);
    }
    for (attribute, value) in &tag.attributes {
        if attribute == "style" || attribute.starts_with("on") {
            let (tag, attribute) = (tag.name.clone(), attribute.clone());
            return Err(PolicyError::BlockedAttribute { tag, attribute });
        }
        if attribute == "integrity" {
            return Err(PolicyError::StaleHash { tag: tag.name.clone() });
        }
        // The place in a page that an address names may begin as its own addresses do.
        let is_rooted = value.starts_with('/') && attribute != "id";
        if is_rooted || (holds_address(attribute) && has_scheme(value)) {
            let (tag, attribute) = (tag.name.clone(), attribute.clone());
            return Err(PolicyError::NotRelative { tag, attribute, value: (*value).to_owned() });
        }
    }
    Ok(())
}

fn holds_address(attribute: &str) -> bool {
    ["href", "src", "srcset", "action", "poster", "data"].contains(&attribute)
}

fn has_scheme(value: &str) -> bool {
    value.split_once(':').is_some_and(|(scheme, _)| {
        !scheme.is_empty() && scheme.chars().all(|letter| letter.is_ascii_alphanumeric())
    })
}

#[cfg(test)]
mod tests;
