use crate::harness::run;
use crate::steps::{self, Steps};

#[test]
fn smoke_whole_run() {
    run(async |stage| {
        let page = &stage.page;
        steps::to_last_check(page).await;
        println!("{:#?}", page.buttons().await);
        std::fs::write("/tmp/lc.png", page.png().await).expect("x");
    });
}
