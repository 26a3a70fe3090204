//! Time stands still, moves when told, and is hidden and slept through.

use super::run_fixture;
use crate::harness::scene::Scene;

#[test]
fn harness_timers_fire_in_order_with_what_each_leads_to() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        let set = "order = []; put = (name) => order.push(name + '@' + performance.now());
            setTimeout(() => { put('b'); Promise.resolve().then(() => put('b2'));
                setTimeout(() => put('c'), 10); }, 20);
            setTimeout(put, 10, 'a'); setTimeout(put, 30, 'd');
            every = setInterval(() => put('tick'), 25); cleared = setTimeout(put, 15, 'never');
            clearTimeout(cleared); requestAnimationFrame((at) => put('frame' + at)); 0";
        page.eval(set).await;
        page.advance(0.009).await;
        assert_eq!(page.eval("order.join()").await, "");
        page.advance(0.046).await;
        let order = page.eval("clearInterval(every); order.join()").await;
        assert_eq!(order, "a@10,frame16@16,b@20,b2@20,tick@25,d@30,c@30,tick@50");
        page.eval("setTimeout(() => put('late'), 0); 0").await;
        page.settle().await;
        assert_eq!(page.eval("order.at(-1)").await, "late@55");
    });
}

#[test]
fn harness_the_clock_waits_for_storage_between_timers() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.eval(
            "seen = []; setTimeout(() => document.getElementById('note').click(), 10);
             setTimeout(() => seen.push(document.getElementById('noted').textContent), 11); 0",
        )
        .await;
        page.advance(1.0).await;
        assert_eq!(page.eval("seen[0]").await, "noted 1");
    });
}

#[test]
fn harness_wall_and_monotonic_clock_part_only_when_told() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        let both = "[Date.now(), new Date().getTime(), performance.now()]";
        let start = page.eval(both).await;
        assert_eq!(start[0], 1_773_498_600_000_i64);
        page.advance(2.0).await;
        page.shift_wall(3_600.0).await;
        page.sleep(61.0).await;
        let after = page.eval(both).await;
        assert_eq!(after[0], 1_773_498_600_000_i64 + 2_000 + 3_600_000 + 61_000);
        assert_eq!((&after[1], &after[2]), (&after[0], &2_000.into()));
        page.reload().await;
        let reloaded = page.eval(both).await;
        assert_eq!((&reloaded[0], &reloaded[2]), (&after[0], &0.into()));
        assert_eq!(page.eval("String(new Date(0).getFullYear())").await, "1970");
        assert_eq!(page.eval("new Date() instanceof Date").await, true);
    });
}

#[test]
fn harness_a_hidden_page_runs_once_a_second_and_draws_no_frames() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.tap("button", "START").await;
        page.eval("ticks = 0; setInterval(() => (ticks += 1), 100); 0").await;
        page.eval("frames = 0; const draw = () => requestAnimationFrame(() => { frames += 1; draw(); }); draw()")
            .await;
        page.hide().await;
        assert_eq!(page.eval("[document.hidden, document.visibilityState]").await[1], "hidden");
        page.advance(10.0).await;
        assert_eq!(page.eval("[ticks, frames]").await, serde_json::json!([10, 0]));
        assert_eq!(page.heard().await.wake_locks(), ["granted", "released"]);
        page.show().await;
        page.advance(1.0).await;
        assert_eq!(page.eval("ticks").await, 20);
        assert!(page.eval("frames").await.as_u64().expect("a count") > 50);
    });
}

#[test]
fn harness_time_can_run_until_the_screen_says_so() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.tap("button", "START").await;
        page.advance_to_state("AGITATE", 30.0).await;
        assert_eq!(page.timer().await, "0:10");
        page.advance_to_state("OVER", 60.0).await;
        assert_eq!(page.timer().await, "1:00");
        assert_eq!(page.timer_name().await, "Developer, time left");
    });
}

#[test]
fn harness_an_hour_passes_in_moments() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.tap("button", "START").await;
        page.advance(3_600.0).await;
        assert_eq!(page.timer().await, "60:00");
    });
}

#[test]
fn harness_a_page_that_reloads_itself_keeps_its_time_and_its_record() {
    run_fixture(Scene::default(), async |stage| {
        let page = &stage.page;
        page.open("").await;
        page.tap("button", "START").await;
        page.advance(7.0).await;
        page.eval("setTimeout(() => location.reload(), 10); 0").await;
        page.advance(0.009).await;
        page.eval("setTimeout(() => location.reload(), 0); __clock.advance(1); 0").await;
        page.until("__clock.now().load === 2 && document.readyState === 'complete'").await;
        page.until_heading().await;
        let now = page.eval("Date.now()").await.as_f64().expect("a time");
        assert!((1_773_498_607_000.0..1_773_498_607_020.0).contains(&now), "{now}");
        let heard = page.heard().await;
        assert_eq!(heard.sentences(), ["Lid on. Agitate next."]);
        assert_eq!(heard.tones().len(), 2);
    });
}
