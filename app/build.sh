# shellcheck shell=bash
# Builds the page into dist/. Sourced after app/set-up.sh, by app/serve and tests/run.

dist="$repository/dist"
bundle="$repository/target/debug/bundle"
bench="$repository/target/bench-page"
bare="$repository/target/bare-page"

# build_page release|dev: leaves a finished build in dist/, or fails. Nothing is built when nothing
# that the build reads has changed.
build_page() {
    local kind=$1 stamp="$repository/target/dist.stamp" inputs
    build_bundle || return 1
    inputs="$(build_inputs "$kind")"
    if [ -f "$dist/sw.js" ] && [ "$(cat "$stamp" 2>/dev/null)" = "$inputs" ]; then
        say "dist/ is up to date."
        return
    fi
    rm -f "$stamp"
    say "Building the page ($kind)."
    run_trunk "$kind" "$repository/app/page/index.html" "$dist" || return 1
    printf '%s\n' "$inputs" >"$stamp"
}

# The program that finishes a build and serves it. Cargo knows whether it has to be built again.
build_bundle() {
    (cd "$repository" && cargo build --quiet -p bundle)
}

# A hash over every file the build reads, and over what builds it.
build_inputs() {
    (
        cd "$repository" || exit 1
        printf '%s\n' "$1" "$page_toolchain" "$page_std" "$(rustc --version)" "$trunk_version" "$binaryen_version" "$esbuild_version"
        find Cargo.toml Cargo.lock Trunk.toml .cargo app style public -type f -print0 |
            LC_ALL=C sort -z | xargs -0 sha256sum
    ) | sha256sum
}

# The model for a browser by itself: for the tests that compare it with the native one.
build_bench() {
    (
        cd "$repository" || exit 1
        as_the_page
        cargo build --quiet --release -p bench --lib --target wasm32-unknown-unknown || exit 1
        wasm-bindgen --target web --no-typescript --out-name bench --out-dir "$bench" \
            "$CARGO_TARGET_DIR/wasm32-unknown-unknown/release/bench.wasm" || exit 1
        cp tests/bench/index.html tests/bench/page.js tests/bench/notebook.html tests/bench/notebook.js "$bench"
    )
}

# The library whose speed the notebook is compared with, beside the page that compares them.
build_bench_beside() {
    need_npm dexie "$dexie_version"
    cp "$cache/npm/node_modules/dexie/dist/modern/dexie.min.mjs" "$bench/dexie.mjs"
}

# The page that starts are measured against, built as the page itself is.
build_bare() {
    build_bundle && run_trunk release "$repository/tests/bench/bare/index.html" "$bare"
}

# In a subshell: what Cargo builds from here on is built as the page is.
as_the_page() {
    if [ "$page_toolchain" = debian ]; then
        # Two toolchains in one target directory would build everything again at every change of hands.
        export CARGO_TARGET_DIR="$repository/target/page" PATH="/usr/bin:$PATH"
    fi
    export CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS="--sysroot=$page_std"
}

# run_trunk release|dev PAGE FOLDER: builds the page into the folder.
run_trunk() {
    local release=() page=$2 into=$3
    [ "$1" = release ] && release=(--release)
    (
        cd "$repository" || exit 1
        # Trunk takes NO_COLOR for a flag with a value and refuses the usual one.
        unset NO_COLOR
        as_the_page
        PATH="$cache/npm/node_modules/.bin:$PATH" TRUNK_SKIP_VERSION_CHECK=true \
            trunk --log warn build "${release[@]}" --dist "$into" "$page"
    )
}
