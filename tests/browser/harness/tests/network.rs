//! The host goes and comes back; the browser is killed and opened again.

use std::time::Duration;

use super::{fixture, run_fixture};
use crate::harness::run_on;
use crate::harness::scene::Scene;

#[test]
fn harness_the_page_loads_offline_and_the_host_comes_back_on_its_port() {
    run_fixture(Scene::default(), async |stage| {
        stage.page.open("").await;
        stage.page.until("navigator.serviceWorker.controller !== null").await;
        let address = stage.server.address();
        stage.server.down();
        let unreached = stage.page.eval("fetch('nothing-kept').then(() => 'came', () => 'lost')");
        assert_eq!(unreached.await, "lost");
        stage.page.reload().await;
        assert_eq!(stage.page.heading().await, "Fixture");
        stage.page.open("#again").await;
        assert_eq!(stage.page.fragment().await, "#again");
        stage.server.up();
        assert_eq!(stage.server.address(), address);
        let back = stage.page.eval("fetch('nothing-kept').then((came) => came.status)").await;
        assert_eq!(back, 404);
    });
}

#[test]
fn harness_the_host_serves_a_folder_and_misbehaves_on_demand() {
    let scene = Scene { prefix: "/any/sub/path/", ..Scene::default() };
    run_on(fixture(), scene, async |stage| {
        stage.page.open("").await;
        let get = "const get = async (path) => {
            const came = await fetch(path, { cache: 'no-store' });
            return [came.status, came.headers.get('content-type'), await came.text()];
        };";
        let asked = |path: &str| format!("(async () => {{ {get} return get('{path}'); }})()");
        let whole = stage.page.eval(&asked("page.css?whole")).await;
        assert_eq!((&whole[0], &whole[1]), (&200.into(), &"text/css; charset=utf-8".into()));
        assert_eq!(stage.page.eval(&asked("/page.css?outside")).await[0], 404);
        stage.server.corrupt("page.css");
        assert_ne!(stage.page.eval(&asked("page.css?corrupt")).await[2], whole[2]);
        stage.server.lose("page.css");
        assert_eq!(stage.page.eval(&asked("page.css?lost")).await[0], 404);
        stage.server.mend();
        stage.server.overlay("more.txt", "one more");
        assert_eq!(stage.page.eval(&asked("more.txt")).await[2], "one more");
        stage.server.slow("page.css", Duration::from_millis(120));
        let slow = "__clock.real.now() + (await get('page.css?slow')).length * 0";
        let slow = format!(
            "(async () => {{ {get} const from = __clock.real.now(); \
             await get('page.css?slow'); return __clock.real.now() - from; }})() // {slow}"
        );
        assert!(stage.page.eval(&slow).await.as_f64().expect("a time") > 100.0);
        stage.server.second_version();
        let worker = stage.page.eval(&asked("sw.js?second")).await;
        assert!(worker[2].as_str().expect("text").contains("VERSION = 'newer-fixture-1'"));
        let paths: Vec<_> = stage.server.asked().into_iter().map(|asked| asked.path).collect();
        assert_eq!(paths[0], "/any/sub/path/");
    });
}

#[test]
fn harness_a_killed_browser_keeps_its_storage_and_time_goes_on() {
    run_fixture(Scene::default(), async |stage| {
        stage.page.open("").await;
        stage.page.advance(10.0).await;
        stage.page.tap_only("button", "NOTE").await;
        stage.page.wait_real(0.25).await;
        let (wall_ms, _) = stage.page.times_ms();
        stage.kill();
        stage.start_again(7.0).await;
        stage.page.open("").await;
        assert!(stage.page.body_text().await.contains("noted 1"));
        assert_eq!(stage.page.eval("Date.now()").await, wall_ms + 7_000.0);
        assert_eq!(stage.page.eval("performance.now()").await, 0);
    });
}

#[test]
fn harness_a_second_window_has_the_same_storage_and_its_own_time() {
    run_fixture(Scene::default(), async |stage| {
        stage.page.open("").await;
        stage.page.tap("button", "NOTE").await;
        stage.page.advance(5.0).await;
        let other = stage.page.another().await;
        other.open("").await;
        assert!(other.body_text().await.contains("noted 1"));
        other.advance(3.0).await;
        let from = "performance.now() + performance.timeOrigin";
        let first = stage.page.eval(from).await.as_f64().expect("a time");
        let second = other.eval(from).await.as_f64().expect("a time");
        assert!((second - first - 3_000.0).abs() < 1.0, "{first} and {second}");
        other.close().await;
        assert_eq!(stage.page.heading().await, "Fixture");
    });
}
