//! Pictures of screens: kept where they are asked for, and looked at.

use std::time::Duration;

use serde_json::Value;

use crate::harness::environment;
use crate::harness::page::Page;

impl Page {
    /// Keeps a picture as `tests/pictures/<name>-<width>x<height>.png`, if pictures are asked for.
    pub async fn picture(&self, name: &str) {
        if environment::pictures().is_some() {
            let size = self.eval("`${innerWidth}x${innerHeight}`").await;
            let file = format!("{name}-{}.png", size.as_str().unwrap_or("unknown"));
            keep(&self.png().await, &file);
        }
    }

    /// The brightest part of any pixel on the screen, from 0 to 255.
    pub async fn brightest_pixel(&self) -> u64 {
        let look = "const draw = new OffscreenCanvas(image.width, image.height).getContext('2d');
            draw.drawImage(image, 0, 0);
            const { data } = draw.getImageData(0, 0, image.width, image.height);
            let most = 0;
            for (let at = 0; at < data.length; at += 4) {
                most = Math.max(most, data[at], data[at + 1], data[at + 2]);
            }
            return most;";
        self.seen(look).await.as_u64().expect("a brightness")
    }

    /// How high the ink is that is really drawn in the one thing of this role, in CSS pixels.
    pub async fn ink_height(&self, role: &str) -> f64 {
        let rect = self.the(role, "").await.rect;
        let look = format!(
            "const scale = image.width / innerWidth;
            const [x, y, width, height] = [{}, {}, {}, {}].map((side) => Math.round(side * scale));
            const draw = new OffscreenCanvas(width, height).getContext('2d');
            draw.drawImage(image, -x, -y);
            const {{ data }} = draw.getImageData(0, 0, width, height);
            const differs = (at) => [0, 1, 2].some((part) => Math.abs(data[at + part] - data[part]) > 60);
            const rows = [];
            for (let at = 0; at < data.length; at += 4) {{
                if (differs(at)) rows.push(Math.floor(at / 4 / width));
            }}
            return (rows.at(-1) - rows[0] + 1) / scale;",
            rect.x, rect.y, rect.width, rect.height
        );
        self.seen(&look).await.as_f64().expect("something is drawn")
    }

    /// What a look at a picture of the screen, `image` in the page's language, comes to.
    async fn seen(&self, look: &str) -> Value {
        let shot = self.png_as_text().await;
        let look = format!(
            "(async () => {{
                const bytes = Uint8Array.from(atob({shot:?}), (letter) => letter.charCodeAt(0));
                const image = await createImageBitmap(new Blob([bytes]));
                {look}
            }})()"
        );
        self.eval(&look).await
    }
}

/// Keeps a file in `tests/pictures`, if pictures are asked for.
pub fn keep(bytes: &[u8], name: &str) {
    let Some(folder) = environment::pictures() else { return };
    std::fs::create_dir_all(&folder).expect("room for pictures");
    std::fs::write(folder.join(name), bytes).expect("room for a picture");
}

/// Prints what a screen said on which a test failed, and keeps a picture of it.
pub async fn of_failure(page: &Page) {
    let looking = async {
        let text = page.body_text().await;
        let faults = page.heard().await.faults();
        page.picture(&format!("failed-{}", test_name())).await;
        std::eprintln!("on the screen when the test failed:\n{text}\nfaults: {faults:?}");
    };
    // The browser may be what failed.
    let _ = tokio::time::timeout(Duration::from_secs(5), looking).await;
}

fn test_name() -> String {
    let thread = std::thread::current();
    thread.name().unwrap_or("test").replace("::", "-")
}
