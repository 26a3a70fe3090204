//! Ten thousand rolls: how long a person waits for the list, and for what they look for.

use serde_json::json;
use session::notebook::{Kind, Record, file};
use session::timestamp::Timestamp;

use crate::harness::page::Page;
use crate::harness::run;
use crate::harness::scene::Viewport;
use crate::steps::Steps;

const COUNT: u32 = 10_000;

/// A notebook of ten thousand rolls.
fn notebook() -> String {
    let now = Timestamp::from_milliseconds(1_773_000_000_000);
    let roll = |number: u32| {
        let days = i64::from(COUNT - number);
        let roll = Record::new(Kind::Roll, &format!("{number:032x}"), "phone", now);
        let day = now.plus_ms(-days * 43_200_000).to_iso();
        let stock = ["colour negative 400", "colour negative 160", "slide 100"];
        let roll = roll
            .with("number", number)
            .with("stock", stock[number as usize % 3])
            .with("format", ["135-36", "120"][number as usize % 2])
            .with("rated_iso", 100 + number % 7 * 50)
            .with("camera", format!("camera {}", number % 9))
            .with("lens", format!("lens {}", number % 13))
            .with("exposed_on", &day[..10])
            .with("note", format!("the walk to place {} and back in the rain", number * 7 % 997))
            .with(
                "judgement",
                if number.is_multiple_of(5) { "thin, the tub was cold" } else { "good" },
            );
        if number + 40 < COUNT { roll.with("filed_at", now.to_iso()) } else { roll }
    };
    file::write((1..=COUNT).map(roll).collect(), now)
}

/// How long it takes, in real milliseconds, until `done` holds and is laid out, after `begin`.
pub async fn takes_ms(page: &Page, begin: &str, done: &str) -> f64 {
    let timed = format!(
        "(async () => {{
            const began = __clock.real.now();
            {begin};
            while (!({done})) await new Promise((on) => __clock.real.setTimeout(on, 0));
            document.body.offsetHeight;
            return __clock.real.now() - began;
        }})()"
    );
    page.eval(&timed).await.as_f64().expect("a time")
}

/// The least of three: what else the machine does is not the page's doing.
async fn least_ms(page: &Page, steps: [(&str, &str); 2]) -> f64 {
    let mut least = f64::INFINITY;
    for _ in 0..3 {
        least = least.min(takes_ms(page, steps[0].0, steps[0].1).await);
        takes_ms(page, steps[1].0, steps[1].1).await;
    }
    least
}

#[test]
fn real_time_ten_thousand_rolls_open_at_once_and_are_found_with_every_key() {
    run(async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.advance(1.0).await;
        page.press("Settings").await;
        page.press("READ A FILE").await;
        page.eval(&format!("(__clock.pick({}), 0)", json!(notebook()))).await;
        page.until_shows("10000").await;
        page.press("READ IT IN").await;
        page.until_shows("has been read into the notebook").await;
        let rows = "document.querySelectorAll('.ledger__row').length >= 60";
        let to_rolls = ("location.hash = '#/rolls'", rows);
        let in_bench = "document.querySelector('h1')?.innerText === 'Bench'";
        let to_bench = ("location.hash = '#/bench'", in_bench);
        takes_ms(page, to_rolls.0, to_rolls.1).await;
        let bench = least_ms(page, [to_bench, to_rolls]).await;
        takes_ms(page, to_bench.0, to_bench.1).await;
        let list = least_ms(page, [to_rolls, to_bench]).await;
        takes_ms(page, to_rolls.0, to_rolls.1).await;
        // A key that finds everything again draws the most, one that finds nothing the least.
        let mut key: f64 = 0.0;
        for (text, says) in [("thin", "2000 found"), ("nothing of it", "0 found"), ("walk", "")] {
            let there = status_says(says);
            let (type_it, type_slide) = (typed(text), typed("thin slide"));
            let slide = status_says("667 found");
            takes_ms(page, &type_slide, &slide).await;
            key = key.max(least_ms(page, [(&type_it, &there), (&type_slide, &slide)]).await);
        }
        takes_ms(page, &typed(""), &status_says("")).await;
        std::eprintln!("Bench {bench:.0} ms, list {list:.0} ms, key {key:.1} ms");
        // The aims are 300, 300 and 50 ms; a machine that does other things gets three times that.
        assert!(bench <= 900.0, "the Bench takes {bench} ms");
        assert!(list <= 900.0, "the list takes {list} ms");
        assert!(key <= 150.0, "a key takes {key} ms");
        page.press_with("MORE").await;
        page.until_shows("120 of 10000 are shown").await;
        page.reload_to("Rolls").await;
        let cold = takes_ms(page, "", rows).await;
        let since = page.eval("__clock.real.now()").await;
        std::eprintln!("read anew by {since} ms after the load began, {cold:.0} ms of them waited");
        let roll = roll_beside_its_list(page).await;
        std::eprintln!("beside its list, at a desk, a roll {roll:.0} ms");
        assert!(roll <= 900.0, "a roll beside its list takes {roll} ms");
    });
}

/// How long a roll takes at a desk, where the list stands beside it with an index at its row.
async fn roll_beside_its_list(page: &Page) -> f64 {
    page.size(Viewport::DESK).await;
    page.settle().await;
    let open = [COUNT, COUNT - 1].map(|number| {
        let is_here = "document.querySelector('aside [aria-current]')?.innerText";
        let is_told = "[...document.querySelectorAll('h1, h2, p')].some((one) => one.innerText";
        let there = format!("{is_here}.includes('{number}') && {is_told} === 'Roll {number}')");
        (format!("location.hash = '#/rolls/{number:032x}'"), there)
    });
    let [one, other] = open.each_ref().map(|(open, there)| (open.as_str(), there.as_str()));
    takes_ms(page, other.0, other.1).await;
    least_ms(page, [one, other]).await
}

/// Whether the line about how many were found says just this.
fn status_says(says: &str) -> String {
    format!("document.querySelector('[role=status].note').innerText === {}", json!(says))
}

/// Somebody has typed this into the field.
fn typed(text: &str) -> String {
    format!(
        "(() => {{
            const field = document.querySelector('.field__in');
            field.value = {};
            field.dispatchEvent(new Event('input', {{ bubbles: true }}));
        }})()",
        json!(text)
    )
}
