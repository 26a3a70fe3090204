//! Sorting, compiled once.
//!
//! The standard sort is made again for each type it sorts, at three to four kilobytes of the bundle
//! each time. Here every order is one of texts.

/// `items` in the order of their keys, each key once: of those with one key, the first.
pub fn unique<T>(items: Vec<(String, T)>) -> Vec<T> {
    let places = places(items.iter().map(|(key, _)| key.as_str()));
    let mut last = None;
    let is_new = |place: &usize| {
        let key = items.get(*place).map(|(key, _)| key.as_str());
        let new = key != last;
        last = key;
        new
    };
    let places: Vec<usize> = places.into_iter().filter(is_new).collect();
    pick(items.into_iter().map(|(_, item)| item), &places)
}

/// `items` in the order of their keys; those with one key stay as they are.
pub fn by<T>(items: Vec<T>, key: impl Fn(&T) -> String) -> Vec<T> {
    let keys: Vec<String> = items.iter().map(key).collect();
    let places = places(keys.iter().map(String::as_str));
    pick(items.into_iter(), &places)
}

/// A key for a whole number from nought on.
pub fn number(number: u64) -> String {
    format!("{number:020}")
}

/// The places of `keys` in their order.
pub(crate) fn places<'a>(keys: impl Iterator<Item = &'a str>) -> Vec<usize> {
    let mut keys: Vec<(&str, usize)> = keys.enumerate().map(|(place, key)| (key, place)).collect();
    keys.sort_unstable();
    keys.into_iter().map(|(_, place)| place).collect()
}

fn pick<T>(items: impl Iterator<Item = T>, places: &[usize]) -> Vec<T> {
    let mut items: Vec<Option<T>> = items.map(Some).collect();
    places.iter().filter_map(|place| items.get_mut(*place)?.take()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn things_stand_in_the_order_of_their_keys() {
        let sorted = by(vec![12, 3, 700, 3], |item| number(*item));
        assert_eq!(sorted, [3, 3, 12, 700]);
        let keyed = |key: &str, item| (key.to_owned(), item);
        assert_eq!(unique(vec![keyed("b", 1), keyed("a", 2), keyed("b", 3)]), [2, 1]);
    }
}
