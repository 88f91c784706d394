#!/usr/bin/env python3
"""Would a test notice, were a fault that was found by use back? Puts each back as one small change of the mending code,
builds that room's tests, runs the test that is to notice, and says whether it failed. By hand, for it takes a build a
fault:

    python3 -B tests/house/faults.py --build build/release [A12 C5 …]

docs/faults-and-tests.md holds what it printed. The tree must have no uncommitted changes in src/; every file is put
back, also on Ctrl C."""
import argparse
import pathlib
import subprocess
import sys

TOO_LONG_S = 300

# Fault, the room whose tests notice, the test's name, the file, what stands there, what stands there with the fault back.
FAULTS = (
    ("A1", "bench", "in the morning the first good tap*", "bench/engine.cpp",
     "    workbench.begin_session(fresh_session(*history));\n    list_ledger();\n    return true;",
     "    fresh_session(*history);\n    return false;"),
    ("A1", "bench", "without a plate a good tap*", "bench/engine.cpp",
     "tap.fate = tap.record.id != 0 ? TapFate::kept : TapFate::not_kept;", "tap.fate = TapFate::kept;"),
    ("A1", "bench", "a notice that comes once more*", "bench/engine_state.hpp",
     "now.notices.pop_back(); // once more: it is to be read again, though it was put away", "return;"),
    ("A2", "bench", "while a tap rings its own figures*", "bench/engine.cpp",
     "named_partials(plate->figures, heard.partials)",
     "named_partials(plate->figures, workbench.history()->sessions.back().taps.back().partials)"),
    ("A3", "bench", "silence that begins to breathe*", "bench/engine.cpp",
     "if (heard.reading_ended && now.tap", "if (now.notices.size() > 999 && now.tap"),
    ("A4", "bench", "an input from which nothing comes is told as silent after*", "bench/ear.cpp",
     "next.silent = time - sound_at_ > k_silent_after;", "next.silent = false;"),
    ("A5", "bench", "a tap of another plate is asked about*", "bench/engine.cpp",
     "if (workbench.takes_taps() && workbench.is_stranger(heard))", "if (workbench.takes_taps() && now.notices.size() > 999)"),
    ("A6", "modes", "*asked for where it moves most*", "modes/doubt.cpp",
     "(own_is_open && !is_its_own(name, spot))", "(own_is_open && most > 999)"),
    ("A8", "screen", "beside the drift no remark is dropped*", "screen/drift_view.cpp",
     "say_count(std::ssize(all) - static_cast<std::ptrdiff_t>(i),", "say_count(i == all.size() ? 0 : 1,"),
    ("A9", "trends", "a history set over to one air keeps*", "trends/in_air.cpp",
     "const double own_sd = mode.frequency_hz * shift.sd;", "const double own_sd = 2400.0 * shift.sd;"),
    ("A10", "modes", "an interval is Student's*", "base/interval.hpp",
     "return student_quantile(0.5 * (1.0 + k_coverage), freedom) * sd;", "return plus_minus(sd) + 0.0 * freedom;"),
    ("A12", "modes", "no sound ends the program*", "modes/subspace.cpp",
     "if (poles.empty()) // all were gone at once", "if (samples.empty()) // all were gone at once"),
    ("A12", "bench", "taps that came without sound*", "bench/workbench.cpp",
     "            taps_.push_back(std::move(heard));\n        }\n        if (!session->taps.empty())",
     "            if (heard.picture)\n                taps_.push_back(std::move(heard));\n        }\n        if (!session->taps.empty())"),
    ("A14", "bench", "a refused tap is in the session's list*", "bench/workbench.cpp",
     "    if (!counts) // what counts is shown once it is pooled: settle()\n        publish();\n", ""),
    ("B1", "trends", "an old map is carried on*", "trends/plate_now.cpp",
     "const std::size_t tapped = newest_tapped(measured, study.session, last);",
     "const std::size_t tapped = std::min(study.session, newest_tapped(measured, study.session, last));"),
    ("B1", "trends", "where an old map can't be carried on*", "trends/plate_now.cpp",
     "if (taken > k_farthest_share * *then.mass_g)", "if (taken > 10.0 * k_farthest_share * *then.mass_g)"),
    ("B2", "trends", "a plan is held against sessions begun after*", "trends/pass_review.cpp",
     "if (history.sessions[i].session.begun > made &&", "if (made > base::Timestamp{} &&"),
    ("B3", "trends", "where an old map can't be carried on*", "trends/plan_request.cpp",
     "if (study.fit.is_plausible || study.fit", "if (study.no_plan.empty() || study.fit"),
    ("B4", "trends", "a dry spell loses no mode*", "trends/mode_law.cpp",
     "k_usual_exponent, middle(response.per_moisture_pct),", "k_usual_exponent, 0.0 * middle(response.per_moisture_pct),"),
    ("B4", "trends", "a number given by hand goes on*", "trends/pairing.cpp",
     "constexpr double k_forced = -1000.0;", "constexpr double k_forced = 0.0;"),
    ("B5", "trends", "a plate gains no 22 g*", "trends/mass_check.cpp",
     "if (gained <= can_gain_g(history, before, after, k_share, k_grams))",
     "if (gained <= 1000.0 + can_gain_g(history, before, after, k_share, k_grams))"),
    ("B5", "trends", "a first session's mass with a lost decimal*", "trends/mass_check.cpp",
     "if (grams < bounds->least_g || grams > most)", "if (grams < bounds->least_g || grams > 10.0 * most)"),
    ("B5", "bench", "a mass, stage, air or date corrected later*", "bench/workbench.cpp",
     "    name_anew(session.plate);\n}", "}"),
    ("B6", "modes", "a cello's and a double bass's free plates*", "modes/usual_band.hpp",
     "is_large && part != Part::body ? 15.0 : 40.0", "is_large && part != Part::body ? 40.0 : 40.0"),
    ("B7", "modes", "the ring keeps its name when f-holes*", "modes/recollection.cpp",
     "if (subject.part == Part::back || subject.stage == then)", "if (subject.part != Part::body || subject.stage == then)"),
    ("B8", "bench", "a model is stale as soon as anything*", "bench/plate_work.cpp",
     "    kept.form = history.form;\n", ""),
    ("B14", "trends", "fit, targets and hindsight are in one air*", "trends/plate_now.cpp",
     "return study.air ? in_air(measured, *study.air).history : measured;",
     "return study.air ? measured : in_air(measured, *study.air).history;"),
    ("C1", "bench", "a lost recording of the newest session*", "bench/workbench.cpp",
     "    } catch (const base::Failure&) {\n        // Lost or damaged",
     "    } catch (const base::Failure&) {\n        throw;\n        // Lost or damaged"),
    ("C2", "bench", "a copy is laid aside at the start*", "bench/engine_state.hpp",
     "            copies.close();\n    }", "            copies.trouble();\n    }"),
    ("C3", "ledger", "an empty ledger is not begun*", "ledger/store_open.cpp",
     "if (holds_recordings(folder))", "if (folder.empty() && holds_recordings(folder))"),
    ("C3", "ledger", "with the morning's copy in its place*", "ledger/mend.cpp",
     "report.found = store.rescue();", "report.found = {};"),
    ("C4", "ledger", "a bad page stops neither*", "ledger/mend.cpp",
     "report_.rows_read = pour_rows(from, *into_).rows;", "report_.rows_read = 0;"),
    ("C4", "ledger", "a figure that changed without the program*", "ledger/seals.cpp",
     "add_bytes(sum, real, sizeof *real);", "add_bytes(sum, real, 0);"),
    ("C5", "ledger", "an older database put in an open one's place*", "ledger/store_return.cpp",
     "if (is_lost_ || !is_as_we_left_it() || !journal_is_ours())", "if (is_lost_)"),
    ("C5", "ledger", "a journal that was deleted under an open*", "ledger/store_return.cpp",
     "return there && there->identity == journal_file_->identity &&\n           there->size >= journal_file_->size;", "return there || true;"),
    ("C6", "screen", "a session's form that was not touched*", "screen/typed.cpp",
     "return is_touched() ? typed_number", "return is_touched() || !text.empty() ? typed_number"),
    ("C7", "bench", "a session looked at again*", "bench/workbench.cpp",
     "    record.recording = store_.recording_of(record.id);\n", ""),
    ("C7", "bench", "a session looked at again*", "bench/workbench.cpp",
     "        keep_makers_names(naming_.modes, session->modes);\n    }\n    add_anew();\n",
     "        keep_makers_names(naming_.modes, session->modes);\n    }\n    mean_ = {};\n    in_mean_ = taps_.size();\n"),
    ("C8", "bench", "a band above half*", "bench/listening.cpp",
     "if (fit.low_hz >= highest_hz)", "if (fit.low_hz >= 1e3 * highest_hz)"),
    ("C8", "bench", "a band above half*", "bench/listening.cpp",
     "    fit.high_hz = std::min(fit.high_hz, highest_hz);\n", ""),
    ("C9", "ledger", "a ledger that could only be read for a while*", "ledger/store.cpp",
     "if (why_read_only.empty() || access_ == Access::read_only ||", "if (tried_again_ms_ >= 0 || access_ == Access::read_only ||"),
    ("C10", "base", "a day that is typed*", "base/clock.cpp",
     "return in_local(written->date, written->clock.value_or(ch::hours{12}));",
     "return written->clock ? in_local(written->date, *written->clock) : in_utc(written->date, ch::hours{0});"),
    ("C10", "base", "what only begins like a date*", "base/clock.cpp",
     "return reader.good() && reader.ended() && out.date.ok()", "return reader.good() && out.date.ok()"),
    ("C10", "base", "the offset that stands after*", "base/clock.cpp",
     "return west ? -ahead : ahead;", "return 0 * ahead;"),
    ("C11", "report", "the comma of other countries*", "report/csv_tables.cpp",
     "if (comma && begin[i].is_number)", "if (comma)"),
    ("C11", "report", "two sessions of one minute*", "report/csv_tables.cpp",
     "begin.back() = count_cell(session.session.id);", "begin.back() = {};"),
    ("C12", "screen", "a mass that can't be this plate's*", "screen/drafts.cpp",
     "if (auto fault = trends::fault_in_mass(out, plate->history)) {", "if (auto fault = trends::fault_in_mass({}, plate->history)) {"),
    ("C12", "ledger", "a bundle that was taken in is taken out again*", "ledger/import_journal.cpp",
     "if (parent == 0 || !new_.contains", "if (parent < 0 && !new_.contains"),
    ("C13", "base", "UTF-8 is told from what is none*", "base/utf8.cpp",
     "code > 0x10FFFF || is_surrogate)", "code > 0x10FFFF + (is_surrogate ? 1 : 0))"),
    ("C13", "ledger", "letters that are no UTF-8*", "base/utf8.cpp",
     "    if (is_harmless(text, lines))\n        return std::string{text};", "    if (is_harmless(text, lines) || lines == Lines::keep)\n        return std::string{text};"),
    ("C13", "bench", "a notice has a number of its own*", "bench/engine_state.hpp",
     "const std::int64_t number = now.notices.empty() ? 1 : now.notices.back().number + 1;",
     "const std::int64_t number = std::ssize(now.notices) + 1;"),
    ("C14", "ledger", "a row that is at odds with its recording*", "ledger/store_read.cpp",
     "const std::int64_t onset = label ? label->onset_index : record.onset_index;", "const std::int64_t onset = record.onset_index;"),
    ("C14", "ledger", "figures, words and links that cannot be*", "ledger/bundle_values.cpp",
     "if (!(value >= low && value <= high))", "if (value < low && value > high)"),
    ("C15", "ledger", "a trigger hidden in a ledger*", "ledger/store_open.cpp",
     "if (!foreign_tables(*database, Foreign::harmful).empty()) {", "if (foreign_tables(*database, Foreign::harmful).size() > 999) {"),
    ("C15", "ledger", "a text of four million letters*", "ledger/database.cpp",
     "{SQLITE_LIMIT_LENGTH, 1 << 26},", "{SQLITE_LIMIT_LENGTH, 1 << 30},"),
    ("C15", "ledger", "a view in a table's place*", "ledger/database.cpp",
     "return until > 0 && thread_seconds() > until ? 1 : 0;", "return until > 0 && thread_seconds() > until + 1e6 ? 1 : 0;"),
    ("C16", "base", "what is behind a sentence stands in the log*", "base/log.cpp",
     "to_iso(now()), harmless(said), harmless(detail));", "to_iso(now()), harmless(said), harmless(detail.substr(0, 0)));"),
    ("C16", "ledger", "on a full disk nothing kept is lost*", "ledger/database.cpp",
     "if (error == ENOSPC || error == EDQUOT || error == EFBIG)", "if (error == EDQUOT)"),
    ("C16", "ledger", "where a disk knows no locks*", "ledger/file_safety.cpp",
     "} else if (errno == ENOLCK || errno == ENOSYS || errno == EOPNOTSUPP || errno == EINVAL) {", "} else if (errno == ENOSYS) {"),
    ("C17", "bench", "a newest session in the future*", "bench/date_check.cpp",
     "if (newest.ms_since_epoch <= now.ms_since_epoch + k_half_a_day_ms)", "if (newest.ms_since_epoch <= now.ms_since_epoch + 9000 * k_half_a_day_ms)"),
    ("C17", "ledger", "a clock set forward once*", "ledger/backups.cpp",
     "    const std::vector<ch::sys_days> likely = likely_days(in_order);",
     "    likely_days(in_order);\n    const std::vector<ch::sys_days> likely(in_order.begin(), in_order.end());"),
    ("C18", "audio", "*", "audio/stated_length.cpp",
     "if (chunk->size == 0 && left > 0 &&", "if (chunk->size == 1 && left > 0 &&"),
    ("C20", "ledger", "words that this program does not know*", "ledger/rows.cpp",
     ".value_or(modes::InstrumentKind::other)", ".value()"),
    ("C21", "report", "no text from outside stands in a cell*", "report/csv_tables.cpp",
     'return {(is_formula ? "\'" : "") + safe};', 'return {(is_formula ? "" : "") + safe};'),
    ("C21", "ledger", "a bundle of millions of empty rows*", "ledger/bundle_values.cpp",
     "if (++objects_ > k_most_objects)", "if (++objects_ > 1000 * k_most_objects)"),
    ("C22", "trends", "eight times the sessions*", "trends/forecast.cpp",
     "if (found.points.size() > k_newest) {", "if (found.points.size() > 1000 * k_newest) {"),
    ("C23", "ledger", "a link among the ledger's folders*", "ledger/file_safety.cpp",
     "    for (const std::string_view name : names)\n        if (std::filesystem::is_symlink(folder / name, error))\n            return name;\n", "    static_cast<void>(names), static_cast<void>(folder);\n"),
    ("C24", "ledger", "an older copy put in place on such a disk*", "ledger/store_open.cpp",
     "        if (!database || !database->has_failed())\n            throw;\n        database.reset();", "        throw;\n        database.reset();"),
    ("C26", "plate", "a path in a comment*", "plate/outline_text.cpp",
     'if (rest.starts_with("<!--")) {', 'if (rest.starts_with("<!---->")) {'),
    ("C26", "plate", "a traced scan of very many points*", "plate/outline.cpp",
     "        if (places.size() <= k_most)\n            break;", "        break;"),
    ("C26", "plate", "a table with old line ends*", "plate/table_text.cpp",
     'const auto end = text.find_first_of("\\r\\n");', "const auto end = text.find('\\n');"),
)


def run(words, timeout):
    try:
        return subprocess.run(words, capture_output=True, text=True, errors="replace", timeout=timeout)
    except subprocess.TimeoutExpired as late:
        return subprocess.CompletedProcess(late.cmd, None, "", f"still running after {timeout} s")


def outcome(build, room, test, file, old, new):
    """What the test says with the fault back: a line of its words where it fails."""
    was = file.read_text(encoding="utf-8")
    if was.count(old) != 1:
        return "NOT TRIED: what was mended reads otherwise now"
    try:
        file.write_text(was.replace(old, new), encoding="utf-8")
        built = run(["cmake", "--build", build, "--target", f"{room}_test"], None)
        if built.returncode != 0:
            return "NOT TRIED: the compiler refuses it: " + next((line for line in built.stdout.splitlines() if "error:" in line), "")
        tested = run([f"{build}/bin/{room}_test", test, "-w", "NoTests"], TOO_LONG_S)
    finally:
        file.write_text(was, encoding="utf-8")
    if tested.returncode == 0:
        return "MISSED"
    if tested.returncode is None:
        return "noticed: does not end"
    if "No test cases matched" in tested.stdout + tested.stderr:
        return "NOT TRIED: there is no such test"
    return "noticed: " + what_failed((tested.stdout + tested.stderr).splitlines())


def what_failed(lines):
    for i, line in enumerate(lines):
        if line.endswith(": FAILED:"):
            return " ".join(line.strip() for line in lines[i + 1:i + 2])
    return next((line.strip() for line in lines if "signal" in line or "ssert" in line or "terminate" in line), lines[-1] if lines else "")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--build", default="build/release")
    parser.add_argument("faults", nargs="*", help="their numbers; all unless said")
    given = parser.parse_args()
    if subprocess.run(["git", "diff", "--quiet", "--", "src"], check=False).returncode != 0:
        sys.exit("src/ has changes that are not committed: commit or lay them aside first; nothing was touched.")
    missed = 0
    for number, room, test, file, old, new in FAULTS:
        if given.faults and number not in given.faults:
            continue
        said = outcome(given.build, room, test, pathlib.Path("src", file), old, new)
        missed += not said.startswith("noticed")
        print(f"{number:4} {room}_test \"{test}\": {said}", flush=True)
    sys.exit(1 if missed else 0)


if __name__ == "__main__":
    main()
