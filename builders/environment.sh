# Sourced by run and check. Sets up one virtual environment from one file of pinned packages.
# Everything is said on stderr. The environment finds src by a path relative to itself, so a
# checkout may be moved.

say() { printf 'evencast: %s\n' "$*" >&2; }

# The first Python that is new enough and can make environments, in $python.
find_python() {
    without_venv=
    for name in python3 python3.14 python3.13 python3.12 python3.11 python; do
        "$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1 || continue
        if "$name" -c 'import ensurepip, venv' >/dev/null 2>&1; then
            # The file itself, not the name: a newer Python under the same name starts afresh.
            python=$("$name" -c 'import os, sys; print(os.path.realpath(sys.executable))')
            return 0
        fi
        without_venv=$name
    done
    if [ -n "$without_venv" ]; then
        say "$without_venv cannot make virtual environments: its venv module is missing."
        say "Install it (Debian and Ubuntu: apt install python3-venv) and run this again."
    else
        say "no Python 3.11 or newer was found under the names python3, python3.11 to 3.14, python."
        say "Install one (https://www.python.org/downloads/), see that it is on the PATH, run again."
    fi
    return 1
}

build_environment() {
    find_python || return 1
    say "setting up once in $env_dir (a minute or two; needs the network)"
    "$python" -m venv --clear "$env_dir" >&2 &&
        "$env_dir/bin/python" -m pip install --quiet --disable-pip-version-check --no-input \
            --require-hashes --requirement "$pinned" >&2 &&
        for packages in "$env_dir"/lib/python3*/site-packages; do
            echo ../../../../src >"$packages/evencast.pth"
        done &&
        "$env_dir/bin/python" -m compileall -q "${pinned%/requirements/*}/src" >&2 &&
        cp "$pinned" "$env_dir/ready.txt" && return 0
    say "set-up did not finish; the reason stands above. Run again to try once more."
    return 1
}

is_ready() { [ -x "$env_dir/bin/python" ] && cmp -s "$pinned" "$env_dir/ready.txt"; }

# ensure_environment ENV_DIR PINNED: true once ENV_DIR holds just what the file PINNED lists.
# ready.txt is a copy of that file, written last, so a set-up that was cut short starts again.
# The lock is a link to the number of the process that sets up: made in one step, never half.
ensure_environment() {
    env_dir=$1 pinned=$2 waited=0 failed=
    until is_ready; do
        if ln -s "$$" "$env_dir.lock" 2>/dev/null; then
            is_ready || build_environment || failed=yes
            rm -f "$env_dir.lock"
            [ -z "$failed" ] || return 1
            continue
        fi
        holder=$(readlink "$env_dir.lock")
        if [ -n "$holder" ] && ! kill -0 "$holder" 2>/dev/null; then
            rm -f "$env_dir.lock"   # its set-up was cut short
        elif [ -z "$holder" ] && [ "$waited" -ge 3 ]; then
            say "cannot write $env_dir.lock: see that ${env_dir%/*} can be written to."
            return 1
        else
            [ -z "$holder" ] || [ "$waited" -gt 0 ] ||
                say "waiting for the set-up of process $holder to finish"
            waited=$((waited + 1))
            sleep 1
        fi
    done
}

may_install() { [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null; }

# install_package NAME: from what Debian's lists say, which are fetched where they lack it.
install_package() {
    apt_install "$1" || { apt-get update -qq >&2 && apt_install "$1"; }
}

apt_install() { DEBIAN_FRONTEND=noninteractive apt-get install -qq -y "$1" >&2; }

# ensure_postgresql: the folder of PostgreSQL's programs in $EVENCAST_POSTGRESQL, for the tests
# that start a server of their own. Taken from the PATH or from where Debian puts it; installed
# where that can be done.
find_postgresql() {
    if [ -n "$EVENCAST_POSTGRESQL" ] && [ -x "$EVENCAST_POSTGRESQL/initdb" ]; then return 0; fi
    found=$(command -v initdb) && found=$(dirname "$(readlink -f "$found")")
    if [ ! -x "$found/postgres" ]; then
        found=
        for folder in /usr/lib/postgresql/*/bin /opt/homebrew/opt/postgresql*/bin; do
            if [ -x "$folder/initdb" ] && [ -x "$folder/postgres" ]; then found=$folder; fi
        done
    fi
    EVENCAST_POSTGRESQL=$found
    export EVENCAST_POSTGRESQL
    [ -n "$found" ]
}

install_postgresql() {
    # The tests start a server of their own: Debian is not to make one that always runs.
    mkdir -p /etc/postgresql-common/createcluster.d &&
        echo 'create_main_cluster = false' \
            >/etc/postgresql-common/createcluster.d/evencast-check.conf
    install_package postgresql
}

ensure_postgresql() {
    if find_postgresql; then return 0; fi
    if may_install; then
        say "installing PostgreSQL for the tests (a minute; needs the network)"
        install_postgresql && find_postgresql && return 0
    fi
    say "PostgreSQL is missing: the library's tests run on it as well as on SQLite."
    say "Install it (Debian and Ubuntu: apt install postgresql; a Mac: brew install postgresql)"
    say "or name the folder of initdb and postgres in EVENCAST_POSTGRESQL, and run this again."
    return 1
}

# ensure_chromium: a browser for the tests in $EVENCAST_CHROMIUM. A name on the PATH may be an empty
# shell (Ubuntu's package without snap), so it counts only where it tells its version.
find_chromium() {
    for name in "$EVENCAST_CHROMIUM" chromium chromium-browser google-chrome \
        "/Applications/Chromium.app/Contents/MacOS/Chromium" \
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome"; do
        found=$(command -v "$name") && "$found" --version >/dev/null 2>&1 || continue
        EVENCAST_CHROMIUM=$found
        export EVENCAST_CHROMIUM
        return 0
    done
    return 1
}

install_chromium() { install_package chromium; }

ensure_chromium() {
    if find_chromium; then return 0; fi
    if may_install; then
        say "installing Chromium for the tests (a minute or two; needs the network)"
        install_chromium && find_chromium && return 0
    fi
    say "Chromium is missing: the pages of the app are tested in a real browser."
    say "Install it (Debian: apt install chromium; Ubuntu: snap install chromium; a Mac: brew"
    say "install --cask chromium) or name the program in EVENCAST_CHROMIUM, and run this again."
    return 1
}
