# shellcheck shell=bash
# Sets up the tools that building and testing need, and says what it does.
# Sourced by app/serve and tests/run; it changes nothing by itself.
#
# What can be kept apart from the machine's own tools is: it lies in the cache folder below, never in
# the repository. A tool of the right version that is already on PATH is used as it is.
# After the first time, nothing here takes longer than asking the tools for their versions.

repository="$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)"
cache="${XDG_CACHE_HOME:-$HOME/.cache}/sinkside"
# One of `plain` (the Rust that builds everything else) and `debian`; set by need_wasm_target.
page_toolchain=""
# Where the standard library lies that the page is built with; set by need_std.
page_std=""

trunk_version=0.21.14
binaryen_version=132.0.0
axe_version=4.14.1
dexie_version=4.4.7
esbuild_version=0.28.2
deny_version=0.20.2
geckodriver_version=0.37.1

# The scripts and the hook of Trunk agree on where programs are built.
export CARGO_TARGET_DIR="$repository/target"
export PATH="$cache/bin:$cache/npm/node_modules/.bin:$HOME/.cargo/bin:$PATH"

say() {
    printf '%s\n' "$*"
}

# Ends the script with one sentence.
give_up() {
    printf '%s\n' "$*" >&2
    exit 1
}

# Said once, and only when something has to be fetched.
first_time() {
    if [ -z "${first_time_said:-}" ]; then
        first_time_said=yes
        say "Setting up what is missing."
        # The longest part, by far, are the programs built from source.
        has_version trunk "$trunk_version" || say "The first time takes about 15 minutes."
    fi
    say "  $*"
}

# Runs a noisy command; what it printed is shown only if it fails.
quietly() {
    silently "$@" && return
    tail -n 40 "$cache/set-up.log" >&2
    return 1
}

# The same for a command that may fail, because there is another way.
silently() {
    mkdir -p "$cache"
    "$@" >"$cache/set-up.log" 2>&1
}

as_root() {
    if [ "$(id -u)" = 0 ]; then
        "$@"
    elif command -v sudo >/dev/null; then
        sudo "$@"
    else
        say "This needs an administrator, and there is no sudo: $*" >&2
        return 1
    fi
}

# Installs packages of the system; fails where there is no apt.
apt_install() {
    command -v apt-get >/dev/null || return 1
    if [ -z "${apt_updated:-}" ]; then
        quietly as_root apt-get update || return 1
        apt_updated=yes
    fi
    quietly as_root env DEBIAN_FRONTEND=noninteractive \
        apt-get install -y --no-install-recommends "$@"
}

# need_program PROGRAM PACKAGE…: a program of the system.
need_program() {
    local program=$1
    shift
    command -v "$program" >/dev/null && return
    first_time "installing $*"
    apt_install "$@" && command -v "$program" >/dev/null && return
    give_up "$program is missing: install it and start again."
}

need_rust() {
    command -v cargo >/dev/null ||
        give_up "Rust is missing: install it with rustup (https://rustup.rs) and start again."
    need_program cc gcc libc6-dev
}

# need_component NAME SUBCOMMAND: a part of Rust that small installations leave out.
need_component() {
    cargo "$2" --version >/dev/null 2>&1 && return
    first_time "adding $1 to Rust"
    quietly timeout 300 rustup component add "$1" || give_up "cargo $2 is missing: install it and start again."
}

# need_crate PROGRAM VERSION MINUTES [FLAG…]: a program from the Rust registry, of one version.
need_crate() {
    local program=$1 version=$2 minutes=$3
    shift 3
    has_version "$program" "$version" && return
    first_time "building $program $version (about $minutes minutes)"
    # A target directory of its own: the repository's is for the project.
    quietly env -u CARGO_TARGET_DIR \
        cargo install "$program" --version "$version" --root "$cache" "$@" ||
        give_up "$program $version could not be built; the reason stands above."
}

has_version() {
    local program=$1
    # The package `wasm-bindgen-cli` holds the program `wasm-bindgen`.
    [ "$("${program%-cli}" --version 2>/dev/null | sed -n '1s/^[^ ]* \([^ ]*\).*/\1/p')" = "$2" ]
}

need_trunk() {
    need_crate trunk "$trunk_version" 6 --locked
}

# The two halves of wasm-bindgen speak to each other only if they are of one version. `--locked` is
# left out because its own lock file names a crate that was withdrawn.
need_wasm_bindgen() {
    local version
    version="$(awk '/^name = "wasm-bindgen"$/ { getline; print $3 }' "$repository/Cargo.lock" | tr -d '"')"
    need_crate wasm-bindgen-cli "$version" 2
}

need_cargo_deny() {
    need_crate cargo-deny "$deny_version" 4 --locked
}

# need_npm PACKAGE VERSION: a package of npm, in the cache folder.
need_npm() {
    local package=$1 version=$2
    local described="$cache/npm/node_modules/$package/package.json"
    grep -qs "\"version\": \"$version\"" "$described" && return
    need_program node nodejs
    need_program npm npm
    first_time "fetching $package $version"
    mkdir -p "$cache/npm"
    quietly npm install --no-audit --no-fund --prefix "$cache/npm" "$package@$version" ||
        give_up "$package $version could not be fetched by npm; the reason stands above."
}

need_wasm_opt() {
    need_program node nodejs
    need_npm binaryen "$binaryen_version"
}

# Takes comments and spaces out of scripts and styles.
need_esbuild() {
    need_program node nodejs
    need_npm esbuild "$esbuild_version"
}

need_axe() {
    need_npm axe-core "$axe_version"
    axe="$cache/npm/node_modules/axe-core/axe.min.js"
}

# need_browser ENGINE: a browser of that engine, and its driver.
need_browser() {
    case "$1" in
        chromium)
            need_program chromium chromium
            need_program chromedriver chromium-driver
            # A voice for the one test that hears a real one.
            need_program speech-dispatcher speech-dispatcher speech-dispatcher-espeak-ng \
                speech-dispatcher-audio-plugins
            ;;
        firefox)
            need_program firefox-esr firefox-esr
            need_crate geckodriver "$geckodriver_version" 3 --locked
            ;;
        webkit)
            need_program WebKitWebDriver webkit2gtk-driver
            need_program Xvfb xvfb
            # The window that the tests open is a few lines of Python.
            need_program /usr/bin/python3 python3
            if ! has_webkit_window; then
                first_time "installing python3-gi gir1.2-webkit2-4.1"
                apt_install python3-gi gir1.2-webkit2-4.1
                has_webkit_window || give_up "WebKitGTK for Python is missing: install it and start again."
            fi
            ;;
    esac
}

has_webkit_window() {
    /usr/bin/python3 -c 'import gi; gi.require_version("WebKit2", "4.1")' >/dev/null 2>&1
}

# The flags that the page's standard library is built with: for size, and without the words of a
# panic, which only a console would show; a module that stops is heard by `public/start.js`. A
# compiler older than 1.91 passes over what is said of panics and builds a larger page.
std_flags=(-Cembed-bitcode=yes -Zforce-unstable-if-unmarked
    -Aexplicit_builtin_cfgs_in_flags '--cfg=panic="immediate-abort"' -Zlocation-detail=none)

# need_std COMPILER SOURCES: builds the standard library for the page from the compiler's own sources,
# once for each version. Leaves its place in page_std; fails where that cannot be had.
need_std() {
    local compiler=$1 library=$2 work="$cache/wasm-std" beside host built
    beside="$(dirname "$compiler")"
    page_std="$cache/std-$("$compiler" -vV | cat - <(printf '%s\n' "${std_flags[@]}") | sha256sum | cut -c1-12)"
    can_build_page "$compiler" && return
    [ -f "$library/Cargo.lock" ] || return 1
    first_time "building the standard library for WebAssembly (about a minute)"
    rm -rf "$work" "$page_std"
    mkdir -p "$work" "$page_std/lib/rustlib/wasm32-unknown-unknown"
    # Apart from what stands around it: the crates that Debian keeps there lack some that it asks for.
    cp -r "$library" "$work/library"
    (
        cd "$work/library" || exit 1
        export PATH="$beside:$PATH" CARGO_TARGET_DIR="$work/target"
        export RUSTC_BOOTSTRAP=1 __CARGO_DEFAULT_LIB_METADATA=std
        export CARGO_PROFILE_RELEASE_OPT_LEVEL=z CARGO_PROFILE_RELEASE_PANIC=abort
        CARGO_ENCODED_RUSTFLAGS="$(IFS=$'\x1f' && printf '%s' "${std_flags[*]}")"
        export CARGO_ENCODED_RUSTFLAGS
        quietly cargo build --release --target wasm32-unknown-unknown -p std -p proc_macro \
            --no-default-features --features std/compiler-builtins-mem,std/optimize_for_size
    ) || return 1
    built="$page_std/lib/rustlib/wasm32-unknown-unknown/lib"
    mkdir "$built"
    cp "$work"/target/wasm32-unknown-unknown/release/deps/*.rlib "$built/"
    # The linker is looked for beside the libraries of the machine itself.
    host="$("$compiler" -vV | sed -n 's/^host: //p')"
    ln -s "$("$compiler" --print sysroot)/lib/rustlib/$host" "$page_std/lib/rustlib/$host"
    rm -rf "$work"
    can_build_page "$compiler"
}

# Whether this compiler can build and link a module for the page with the standard library of
# page_std: only trying tells.
can_build_page() {
    local module
    [ -d "$page_std" ] || return 1
    module="$(mktemp "$cache/probe.XXXXXX")"
    local can=1
    (cd "$repository" && "$1" --target wasm32-unknown-unknown --sysroot "$page_std" --crate-type cdylib \
        --crate-name probe -o "$module" - </dev/null >/dev/null 2>&1) && can=0
    rm -f "$module"
    return "$can"
}

need_wasm_target() {
    local rustc sources
    # Asked for here, because a folder may choose a toolchain of its own.
    rustc="$(cd "$repository" && rustc --print sysroot)/bin/rustc"
    sources="$(dirname "$(dirname "$rustc")")/lib/rustlib/src/rust/library"
    page_toolchain=plain
    need_std "$rustc" "$sources" && return
    # A toolchain that could not be given its sources is not asked again, as that means a long wait.
    local refused="$cache/no-std-sources"
    if ! grep -qsxF "$("$rustc" --version)" "$refused" && command -v rustup >/dev/null; then
        first_time "adding the sources of the standard library to Rust (at most 90 seconds)"
        (cd "$repository" && silently timeout 90 rustup component add rust-src) &&
            need_std "$rustc" "$sources" && return
        "$rustc" --version >>"$refused"
    fi
    page_toolchain=debian
    [ -x /usr/bin/rustc ] && need_std /usr/bin/rustc "$(debian_sources)" && return
    first_time "Rust's server gave no sources; installing Debian's toolchain instead"
    # `lld` brings the linker, and has to be of the compiler's LLVM.
    apt_install rustc-web cargo-web rust-web-src rust-web-llvm &&
        apt_install "lld-$(/usr/bin/rustc -vV | sed -n 's/^LLVM version: \([0-9]*\).*/\1/p')" &&
        need_std /usr/bin/rustc "$(debian_sources)" && return
    give_up "The sources of Rust's standard library are missing: try 'rustup component add rust-src', then start again."
}

debian_sources() {
    local folder
    for folder in /usr/src/rustc-*/library; do printf '%s' "$folder"; done
}

# Everything that building the page needs.
set_up_build() {
    need_rust
    need_wasm_target
    need_wasm_opt
    need_esbuild
    need_wasm_bindgen
    need_trunk
}
