#!/usr/bin/env python3
"""The Debian package: made twice it is the same to the byte; Debian's, freedesktop's and AppStream's own
checkers find nothing; unpacked anywhere, the program in it makes the demo workshop and completes words.
What a bare system makes of it, `sh third_party/setup package` tries (src/package/try_bare.sh)."""
import os
import re
import shutil
import subprocess

import support


def packed(given, folder, env):
    """A package made of the build tree that the program lies in."""
    tree = given.program.parent.parent
    done = subprocess.run(["cpack", "--config", tree / "CPackConfig.cmake", "-B", folder], cwd=tree, env=env,
                          capture_output=True, text=True, check=False)
    found = list(folder.glob("*.deb"))
    if done.returncode != 0 or len(found) != 1:
        raise SystemExit(f"cpack: {done.stdout}{done.stderr}")
    return found[0]


def judged(checks, *command, env=None):
    """A checker that is not installed is named, and passed over."""
    if shutil.which(command[0]) is None:
        print("not checked: no", command[0], "here")
        return
    done = subprocess.run([str(word) for word in command], capture_output=True, text=True, check=False, env=env)
    checks.that(done.returncode == 0, f"{command[0]} says: {done.stdout}{done.stderr}")


def versions_agree(given, checks, version):
    docs, here = given.source / "docs", given.source / "src" / "package"
    for file, wanted in ((docs / "CHANGELOG.md", f"## {version} ("), (docs / "CITATION.cff", f"version: {version}\n"),
                         (here / "changelog.in", f"platewright ({version})"),
                         (here / "platewright.metainfo.xml.in", f'<release version="{version}"')):
        checks.that(wanted in file.read_text(encoding="utf-8"), f"{file.name} is not of {version}")


def names_are_the_publishers(given, checks, root):
    """Unless somebody says their domain, the names are of those that RFC 2606 keeps for examples; one variable changes
    all of them, and what comes of it is valid as well."""
    metainfo = list((root / "usr" / "share" / "metainfo").glob("*.xml"))
    checks.that([path.name for path in metainfo] == ["org.example.Platewright.metainfo.xml"], f"the package has {metainfo}")
    addresses = set()
    for path in (root / "usr" / "share").rglob("*"):
        if path.suffix in (".xml", ".desktop", ".svg", ".cff"):
            addresses |= set(re.findall(r"https?://([^/\"'<\s]+)", path.read_text(encoding="utf-8")))
    ours = addresses - {"example.org", "www.w3.org", "www.freedesktop.org"}  # names of XML's own spaces
    checks.that(not ours, f"addresses that nobody here owns: {ours}")
    named = given.scratch / "named"
    script = given.source / "src" / "package" / "names.cmake"
    for domain, wanted in (("plate-works.example.net", "net.example.plate_works.Platewright"),
                           ("7makers.example.com", "com.example._7makers.Platewright")):
        judged(checks, "cmake", f"-DPLATEWRIGHT_DOMAIN={domain}", f"-DNAMED_FILES={named}", "-P", script)
        text = (named / f"{wanted}.metainfo.xml").read_text(encoding="utf-8")
        checks.that(f"<id>{wanted}</id>" in text and f">https://{domain}/platewright<" in text and "example.org" not in text,
                    f"{domain}: {text[:400]}")
    judged(checks, "appstreamcli", "validate", "--no-net", "--strict", *named.glob("*.xml"))
    judged(checks, "desktop-file-validate", *named.glob("*.desktop"))
    refused = subprocess.run(["cmake", "-DPLATEWRIGHT_DOMAIN=https://x", f"-DNAMED_FILES={named}", "-P", script],
                             capture_output=True, text=True, check=False)
    checks.that(refused.returncode != 0 and "give a domain" in refused.stderr, f"what is no domain is taken: {refused}")


def files_are_sound(given, checks, root):
    share = root / "usr" / "share"
    judged(checks, "desktop-file-validate", *share.glob("applications/*.desktop"))
    judged(checks, "appstreamcli", "validate", "--no-net", "--strict", *share.glob("metainfo/*.xml"))
    for icon in share.glob("icons/**/*.svg"):
        picture = given.scratch / (icon.stem + ".png")
        judged(checks, "rsvg-convert", "-w", "48", "-o", picture, icon)
    if shutil.which("update-mime-database"):
        judged(checks, "update-mime-database", share / "mime")
        checks.that("application/x-platewright-bundle:*.platewright" in (share / "mime" / "globs2").read_text(),
                    "the bundle's type is not known by its ending")
    guide = (share / "doc" / "platewright" / "guide.md").read_text(encoding="utf-8")
    for picture in re.findall(r"\]\((pictures/[^)]+)\)", guide):
        checks.that((share / "doc" / "platewright" / picture).is_file(), f"the guide's {picture} is not installed")


def works_where_it_lies(checks, root, env, scratch):
    """As installed: no sources, no Python on the path."""
    only = scratch / "only"
    only.mkdir()
    program = root / "usr" / "bin" / "platewright"
    bare = env | {"PATH": str(only)}
    ledger = scratch / "demo"
    done = support.run(program, "demo", "--fill", "begun", "--ledger", ledger, env=bare, cwd=scratch)
    checks.that(done.returncode == 0 and (ledger / "ledger.sqlite").is_file(), f"demo: {done.returncode}, {done.stderr!r}")
    again = support.run(program, "demo", "--json", "--ledger", ledger, env=bare)
    checks.that(again.returncode == 0 and '"made": false' in again.stdout, f"demo a second time: {again}")
    own = scratch / "own"
    support.run(program, "enter", "--plate", "Own back", "--ledger", own, env=bare)
    refused = support.run(program, "demo", "--ledger", own, env=bare)
    checks.that(refused.returncode == 3 and len(refused.stderr.splitlines()) == 1, f"demo over an own ledger: {refused}")
    offered = support.run(program, "complete", "--", "drift", "--ledger", ledger, "", env=bare | {"PLATEWRIGHT_LEDGER": str(ledger)})
    checks.that("Wren back\n" in offered.stdout and offered.returncode == 0, f"complete offers {offered.stdout!r}")
    offered = support.run(program, "complete", "--", "bundle", "", env=bare).stdout
    checks.that(re.findall(r"^(\w+)\t", offered, re.MULTILINE) == ["out", "in", "undo", "tables"], f"complete offers {offered!r}")
    for words, wanted in ((("demo", "--fill", ""), "all\nbegun\n"), (("sheet", "--language", ""), "en\nde\nit\n"),
                          (("enter", "--mass", ""), "")):
        offered = support.run(program, "complete", "--", *words, env=bare).stdout
        checks.that(offered == wanted, f"complete offers {offered!r} after {words}")
    if shutil.which("bash"):
        script = root / "usr" / "share" / "bash-completion" / "completions" / "platewright"
        asked = f'. {script}; COMP_WORDS=(platewright dri); COMP_CWORD=1; _platewright; echo "${{COMPREPLY[*]}}"'
        done = subprocess.run(["bash", "-c", asked], env=env | {"PATH": f"{program.parent}:/usr/bin:/bin"}, capture_output=True,
                              text=True, check=False)
        checks.that(done.stdout.strip() == "drift", f"bash completes dri to {done.stdout!r}{done.stderr!r}")


if __name__ == "__main__":
    given = support.arguments()
    support.need("cpack", "dpkg-deb", "dpkg-shlibdeps", "gzip")
    checks = support.Checks()
    env = support.private_environment(given.scratch) | {"LC_ALL": "C.UTF-8"}
    version = support.run(given.program, "--version", env=env).stdout.split()[1]
    versions_agree(given, checks, version)
    stamp = subprocess.run(["dpkg-parsechangelog", "-l", given.program.parent.parent / "package" / "named" / "changelog", "-S", "Timestamp"],
                           capture_output=True, text=True, check=True).stdout.strip()
    steady = {**os.environ, "SOURCE_DATE_EPOCH": stamp}
    first, second = (packed(given, given.scratch / name, steady) for name in ("first", "second"))
    checks.that(first.read_bytes() == second.read_bytes(), "made twice, the package differs")
    judged(checks, "lintian", "--allow-root", "--fail-on", "error,warning", "--no-cfg", first)
    root = given.scratch / "root"
    subprocess.run(["dpkg-deb", "-x", first, root], check=True)
    files_are_sound(given, checks, root)
    names_are_the_publishers(given, checks, root)
    works_where_it_lies(checks, root, env, given.scratch)
    checks.finish()
