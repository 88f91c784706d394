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

# Fault, what it was, the room whose tests notice ("whole": a script of tests/whole, which runs the program), the test's
# name; then, once or more often, a file, what stands there, and what stands there with the fault back.
FAULTS = (
    ("A1", "a good tap on another day's session was answered green and not kept",
     "bench", "in the morning the first good tap*", "bench/engine.cpp",
     "    workbench.begin_session(fresh_session(*history));\n    list_ledger();\n    return true;",
     "    fresh_session(*history);\n    return false;"),
    ("A1", "green without the row in the ledger",
     "bench", "without a plate a good tap*", "bench/engine.cpp",
     "tap.fate = tap.record.id != 0 ? TapFate::kept : TapFate::not_kept;", "tap.fate = TapFate::kept;"),
    ("A1", "a notice equal to the last one was dropped",
     "bench", "a notice that comes once more*", "bench/engine_state.hpp",
     "now.notices.pop_back(); // once more: it is to be read again, though it was put away", "return;"),
    ("A2", "while a tap rang the figures of the tap before were shown",
     "bench", "while a tap rings its own figures*", "bench/engine.cpp",
     "named_partials(plate->figures, heard.partials)",
     "named_partials(plate->figures, workbench.history()->sessions.back().taps.back().partials)"),
    ("A3", 'room noise after silence stayed "ringing"',
     "bench", "silence that begins to breathe*", "bench/listening.cpp",
     "        step.first_reading = read_tap(*detector_.ringing());",
     "        step.first_reading = read_tap(*detector_.ringing());\n        step.first_reading->tap.verdict = taps::Verdict::accepted;"),
    ("A4", "a dead input was not told as silent",
     "bench", "an input from which nothing comes is told as silent after*", "bench/ear.cpp",
     "next.silent = time - sound_at_ > k_silent_after;", "next.silent = false;"),
    ("A5", "a tap of another plate was accepted",
     "bench", "a tap of another plate is asked about*", "bench/engine.cpp",
     "if (workbench.takes_taps() && workbench.is_stranger(heard))", "if (workbench.takes_taps() && now.notices.size() > 999)"),
    ("A6", "the spot advised was not the one that the guide names for the mode",
     "modes", "a doubt asks for the spot*", "modes/doubt.cpp",
     "(own_is_open && !is_its_own(name, spot))", "(own_is_open && most > 999)"),
    ("A8", "remarks without room were dropped without a word",
     "screen", "beside the drift no remark is dropped*", "screen/drift_view.cpp",
     "say_count(std::ssize(all) - static_cast<std::ptrdiff_t>(i),", "say_count(i == all.size() ? 0 : 1,"),
    ("A9", "the doubt of all modes in one air was the highest mode's",
     "trends", "a history set over to one air keeps*", "trends/in_air.cpp",
     "const double own_sd = mode.frequency_hz * shift.sd;", "const double own_sd = 2400.0 * shift.sd;"),
    ("A10", "± was one deviation here and two there",
     "base", "what stands after a plus-minus*", "base/interval.hpp",
     "return student_quantile(0.5 * (1.0 + k_coverage), freedom) * sd;", "return plus_minus(sd) + 0.0 * freedom;"),
    ("A12", "after digital silence the fit ended the program",
     "modes", "no sound ends the program*", "modes/subspace.cpp",
     "if (poles.empty()) // all were gone at once", "if (samples.empty()) // all were gone at once"),
    ("A12", "taking back a tap without sound ended the program",
     "bench", "taps that came without sound*", "bench/workbench.cpp",
     "            taps_.push_back(std::move(heard));\n        }\n        if (!session->taps.empty())",
     "            if (heard.picture)\n                taps_.push_back(std::move(heard));\n        }\n        if (!session->taps.empty())"),
    ("A14", "a refused tap was not in the session's list",
     "bench", "a refused tap is in the session's list*", "bench/workbench.cpp",
     "    if (!counts) // what counts is shown once it is pooled: settle()\n        publish();\n", ""),
    ("B1", "a plan was made from an old map as if it were today's",
     "trends", "an old map is carried on*", "trends/plate_now.cpp",
     "const std::size_t tapped = newest_tapped(measured, study.session, last);",
     "const std::size_t tapped = std::min(study.session, newest_tapped(measured, study.session, last));"),
    ("B1", "an old map was carried on however much had come off",
     "trends", "where an old map can't be carried on*", "trends/plate_now.cpp",
     "if (taken > k_farthest_share * *then.mass_g)", "if (taken > 10.0 * k_farthest_share * *then.mass_g)"),
    ("B2", "a plan was held against a session from before it",
     "trends", "a plan is held against sessions begun after*", "trends/pass_review.cpp",
     "if (history.sessions[i].session.begun > made &&", "if (made > base::Timestamp{} &&"),
    ("B3", "a plan in spite of implausible wood",
     "trends", "where no plausible wood gives*", "trends/plan_request.cpp",
     "if (study.fit.is_plausible || study.fit", "if (study.no_plan.empty() || study.fit"),
    ("B4", "a dry spell lost modes: the air was not expected",
     "trends", "of the modes that bear a number*", "trends/conditions.cpp",
     "air = read.value_or(air);", "air = all.empty() ? read.value_or(air) : air;"),
    ("B4", "the maker's name did not bind a track",
     "trends", "where the maker says which of two modes*", "trends/pairing.cpp",
     "constexpr double k_forced = -1000.0;", "constexpr double k_forced = 0.0;"),
    ("B5", "a plate that gained 22 g was taken",
     "trends", "a plate gains no 22 g*", "trends/mass_check.cpp",
     "if (gained <= can_gain_g(history, before, after, k_share, k_grams))",
     "if (gained <= 1000.0 + can_gain_g(history, before, after, k_share, k_grams))"),
    ("B5", "a first mass with a lost comma was taken",
     "trends", "a first session's mass with a lost decimal*", "trends/mass_check.cpp",
     "if (grams < bounds->least_g || grams > most)", "if (grams < bounds->least_g || grams > 10.0 * most)"),
    ("B5", "a corrected mass or stage left the names as they were",
     "bench", "a mass, stage, air or date corrected later*", "bench/workbench.cpp",
     "    name_anew(session.plate);\n}", "}"),
    ("B6", "a cello's mode 1 lay below the band",
     "modes", "a cello's and a double bass's free plates*", "modes/usual_band.hpp",
     "is_large && part != Part::body ? 15.0 : 40.0", "is_large && part != Part::body ? 40.0 : 40.0"),
    ("B7", "mode 5 lost its name when f-holes were cut",
     "modes", "the ring keeps its name when f-holes*", "modes/recollection.cpp",
     "if (subject.part == Part::back || subject.stage == then)", "if (subject.part != Part::body || subject.stage == then)"),
    ("B8", "the model stayed when the shape changed",
     "bench", "a model is stale as soon as anything*", "bench/plate_work.cpp",
     "    kept.form = history.form;\n", ""),
    ("B14", "plan and hindsight ignored the air",
     "trends", "fit, targets and hindsight are in one air*", "trends/plate_now.cpp",
     "return study.air ? in_air(measured, *study.air).history : measured;",
     "return study.air ? measured : in_air(measured, *study.air).history;"),
    ("C1", "a lost recording locked the maker out",
     "bench", "a lost recording of the newest session*", "bench/workbench.cpp",
     "    } catch (const base::Failure&) {\n        // Lost or damaged",
     "    } catch (const base::Failure&) {\n        throw;\n        // Lost or damaged"),
    ("C2", "no copy at closing",
     "bench", "a copy is laid aside at the start*", "bench/engine_state.hpp",
     "            copies.close();\n    }", "            copies.trouble();\n    }"),
    ("C3", "an empty ledger was begun beside recordings",
     "ledger", "an empty ledger is not begun*", "ledger/store_open.cpp",
     "if (holds_recordings(folder))", "if (folder.empty() && holds_recordings(folder))"),
    ("C3", "a day's taps did not come back from their recordings",
     "ledger", "with the morning's copy in its place*", "ledger/mend.cpp",
     "report.found = store.rescue();", "report.found = {};"),
    ("C4", "after one bad page nothing could be read",
     "ledger", "a bad page stops neither*", "ledger/check.cpp",
     "        pour_rows(*database, *readable);\n", ""),
    ("C4", "a changed figure was not seen",
     "ledger", "a figure that changed without the program*", "ledger/seals.cpp",
     "add_bytes(sum, real, sizeof *real);", "add_bytes(sum, real, 0);"),
    ("C5", "an older database in an open one's place took taps along",
     "ledger", "an older database put in an open one's place*", "ledger/store_return.cpp",
     "if (is_lost_ || !is_as_we_left_it() || !journal_is_ours())", "if (is_lost_)"),
    ("C5", "a deleted journal took taps along",
     "ledger", "a journal deleted under an open ledger that is killed*", "ledger/store_return.cpp",
     "return there && there->identity == journal_file_->identity &&\n           there->size >= journal_file_->size;", "return there || true;"),
    ("C6", "a form saved as it came rounded the mass",
     "screen", "a session's form that was not touched*", "screen/typed.cpp",
     "return is_touched() ? typed_number", "return is_touched() || !text.empty() ? typed_number"),
    ("C7", "taking back a tap of a session looked at again ended the program",
     "bench", "a session looked at again*", "bench/workbench.cpp",
     "    record.recording = store_.recording_of(record.id);\n", ""),
    ("C8", "a band wholly above the rate's half ended the program",
     "bench", "a band above half*", "bench/listening.cpp",
     "if (fit.low_hz >= highest_hz)", "if (fit.low_hz >= 1e3 * highest_hz)"),
    ("C9", "a disk that came back stayed read-only",
     "ledger", "a ledger that could only be read for a while*", "ledger/store.cpp",
     "if (why_read_only.empty() || access_ == Access::read_only ||", "if (tried_again_ms_ >= 0 || access_ == Access::read_only ||"),
    ("C10", "a typed day was midnight UTC",
     "base", "a day that is typed*", "base/clock.cpp",
     "return in_local(written->date, written->clock.value_or(ch::hours{12}));",
     "return written->clock ? in_local(written->date, *written->clock) : in_utc(written->date, ch::hours{0});"),
    ("C10", "what only begins like a date was taken",
     "base", "what only begins like a date*", "base/clock.cpp",
     "return reader.good() && reader.ended() && out.date.ok()", "return reader.good() && out.date.ok()"),
    ("C10", "the offset after a time was ignored",
     "base", "the offset that stands after*", "base/clock.cpp",
     "return west ? -ahead : ahead;", "return 0 * ahead;"),
    ("C11", "the decimal comma was set in words too",
     "report", "the comma of other countries*", "report/csv_tables.cpp",
     "if (comma && begin[i].is_number)", "if (comma)"),
    ("C11", "two sessions of one minute could not be told apart",
     "report", "two sessions of one minute*", "report/csv_tables.cpp",
     "begin.back() = count_cell(session.session.id);", "begin.back() = {};"),
    ("C12", "a refused mass closed the form",
     "screen", "a mass that can't be this plate's*", "screen/drafts.cpp",
     "if (auto fault = trends::fault_in_mass(out, plate->history)) {", "if (auto fault = trends::fault_in_mass({}, plate->history)) {"),
    ("C12", "an import could not be undone",
     "ledger", "a bundle that was taken in is taken out again*", "ledger/import_journal.cpp",
     "if (parent == 0 || !new_.contains", "if (parent < 0 && !new_.contains"),
    ("C13", "surrogates passed as UTF-8",
     "base", "UTF-8 is told from what is none*", "base/utf8.cpp",
     "code > 0x10FFFF || is_surrogate)", "code > 0x10FFFF + (is_surrogate ? 1 : 0))"),
    ("C13", "control characters in notes were kept",
     "ledger", "letters that are no UTF-8*", "ledger/statement.cpp",
     "if (is_kept && !base::is_harmless(value, base::Lines::keep))", "if (is_kept && value.size() > 999 && !base::is_harmless(value, base::Lines::keep))"),
    ("C13", "after twenty notices the next was not drawn",
     "bench", "a notice has a number of its own*", "bench/engine_state.hpp",
     "const std::int64_t number = now.notices.empty() ? 1 : now.notices.back().number + 1;",
     "const std::int64_t number = std::ssize(now.notices) + 1;"),
    ("C14", "a row's onset was believed against its recording",
     "ledger", "a row that is at odds with its recording*", "ledger/store_read.cpp",
     "const std::int64_t onset = label ? label->onset_index : record.onset_index;", "const std::int64_t onset = record.onset_index;"),
    ("C14", "figures that cannot be came in with a bundle",
     "ledger", "figures, words and links that cannot be*", "ledger/bundle_values.cpp",
     "if (!(value >= low && value <= high))", "if (value < low && value > high)"),
    ("C15", "a trigger in a ledger acted",
     "ledger", "a trigger hidden in a ledger*", "ledger/store_open.cpp",
     "if (!foreign_tables(*database, Foreign::harmful).empty()) {", "if (foreign_tables(*database, Foreign::harmful).size() > 999) {"),
    ("C15", "a text of hundreds of MB was read",
     "ledger", "a text of four million letters*", "ledger/database.cpp",
     "{SQLITE_LIMIT_LENGTH, 1 << 26},", "{SQLITE_LIMIT_LENGTH, 1 << 30},"),
    ("C15", "a view without end hung the program",
     "ledger", "a view in a table's place*", "ledger/database.cpp",
     "return until > 0 && thread_seconds() > until ? 1 : 0;", "return until > 0 && thread_seconds() > until + 1e6 ? 1 : 0;"),
    ("C16", "the log did not say why",
     "base", "what is behind a sentence stands in the log*", "base/log.cpp",
     "to_iso(now()), harmless(said), harmless(detail));", "to_iso(now()), harmless(said), harmless(detail.substr(0, 0)));"),
    ("C16", "a full disk was told as another trouble",
     "ledger", "a limit on the size of files*", "ledger/file_safety.cpp",
     "if (error == ENOSPC || error == EDQUOT || error == EFBIG) {", "if (error == EDQUOT) {"),
    ("C16", "where a disk knows no locks no ledger opened",
     "ledger", "where a disk knows no locks*", "ledger/file_safety.cpp",
     "} else if (errno == ENOLCK || errno == ENOSYS || errno == EOPNOTSUPP || errno == EINVAL) {", "} else if (errno == ENOSYS) {"),
    ("C17", "a newest session in the future was not asked about",
     "bench", "a newest session in the future*", "bench/date_check.cpp",
     "if (newest.ms_since_epoch <= now.ms_since_epoch + k_half_a_day_ms)", "if (newest.ms_since_epoch <= now.ms_since_epoch + 9000 * k_half_a_day_ms)"),
    ("C17", "a clock set forward once swept the copies away",
     "ledger", "a clock set forward once*", "ledger/backups.cpp",
     "    const std::vector<ch::sys_days> likely = likely_days(in_order);",
     "    likely_days(in_order);\n    const std::vector<ch::sys_days> likely(in_order.begin(), in_order.end());",
     "ledger/backups.cpp", "drop.resize(static_cast<std::size_t>(params.most_dropped));", "drop.shrink_to_fit();"),
    ("C18", "a WAV that states no length was refused",
     "audio", "*", "audio/stated_length.cpp",
     "if (chunk->size == 0 && left > 0 &&", "if (chunk->size == 1 && left > 0 &&"),
    ("C20", "a word of a later program made the ledger unusable",
     "ledger", "words that this program does not know*", "ledger/rows.cpp",
     ".value_or(modes::InstrumentKind::other)", ".value()"),
    ("C21", "a formula of a bundle stood raw in a table",
     "report", "no text from outside stands in a cell*", "report/csv_tables.cpp",
     'return {(is_formula ? "\'" : "") + safe};', 'return {(is_formula ? "" : "") + safe};'),
    ("C21", "a bundle of millions of empty rows could not be stopped",
     "ledger", "a bundle of millions of empty rows*", "ledger/bundle_values.cpp",
     "objects_ % k_objects_between_questions == 0 &&", "objects_ == 0 &&"),
    ("C22", "a plate's drift grew with the cube of its sessions",
     "trends", "eight times the sessions*", "trends/strand.cpp",
     "return !is_named() && session - last_session() >", "return !is_named() && session - last_session() > 100000 +"),
    ("C23", "a link in a ledger was followed",
     "ledger", "a link among the ledger's folders*", "ledger/file_safety.cpp",
     "    for (const std::string_view name : names)\n        if (std::filesystem::is_symlink(folder / name, error))\n            return name;\n", "    static_cast<void>(names), static_cast<void>(folder);\n"),
    ("C24", "without shared memory no ledger opened",
     "ledger", "an older copy put in place on such a disk*", "ledger/store_open.cpp",
     "        if (!database || !database->has_failed())\n            throw;\n        database.reset();", "        throw;\n        database.reset();"),
    ("C12", "`enter` kept a new plate as a back unasked",
     "whole", "bad_input", "main/enter.cpp",
     "if (known.empty() && !entry.part) {", "if (known.empty() && !entry.part && o.plate.empty()) {",
     "main/enter.cpp", "known.empty() ? *entry.part : known", "known.empty() ? entry.part.value_or(modes::Part::back) : known",
     "main/enter.cpp", ".part = *entry.part,", ".part = entry.part.value_or(modes::Part::back),"),
    ("C26", "a path in a comment was taken for the outline",
     "plate", "a path in a comment*", "plate/outline_text.cpp",
     'if (rest.starts_with("<!--")) {', 'if (rest.starts_with("<!---->")) {'),
    ("C26", "an outline of very many points took a minute",
     "plate", "a traced scan of very many points*", "plate/outline.cpp",
     "constexpr std::size_t k_many = 1000, k_most = 4000;", "constexpr std::size_t k_many = 10'000'000, k_most = 4000;"),
    ("C26", "a table with CR alone was one line",
     "plate", "a table with old line ends*", "plate/table_text.cpp",
     'const auto end = text.find_first_of("\\r\\n");', "const auto end = text.find('\\n');"),
    ("D", "a plate's session went to a closed body",
     "ledger", "what can't be put so is refused*", "ledger/store_correct.cpp",
     "if (is_body(from[0]) != is_body(to[0]))", "if (is_body(from[0]) != is_body(from[0]))"),
    ("D", "Ctrl Z acted on the plate that is open now",
     "bench", "an act is undone where it was done*", "bench/undo.cpp",
     "        undo->plate = history->plate.id;\n", ""),
    ("D", "an undone spot stayed",
     "bench", "what a maker did last is undone*", "bench/undo.cpp",
     "command::SetSpot{c.tap, old->spot})", "command::SetSpot{c.tap, c.spot})"),
    ("D", "one reading out took others along",
     "ledger", "any tap is withdrawn*", "ledger/store_correct.cpp",
     "if (std::ranges::find(which, i) == which.end())", "if (i != which.front())"),
    ("D", "Tab passed over lists",
     "screen", "the Tab key stops at a list*", "screen/fields.cpp",
     "ImGui::PushItemFlag(ImGuiItemFlags_Inputable, k_tab_passes_lists);", "ImGui::PushItemFlag(ImGuiItemFlags_Inputable, false);"),
    ("D", "the oldest instrument stood first",
     "screen", "of several instruments the newest*", "screen/plates_view.cpp",
     "std::views::reverse(*sight.now.instruments)", "std::views::all(*sight.now.instruments)"),
    ("E", "figures broke over lines",
     "report", "no figure and no word of a head is broken*", "report/flow_table.cpp",
     "if (widths[i] < needs[i]) {", "if (widths[i] < 0.0 * needs[i]) {"),
    ("E", "a heading stood alone at a page's foot",
     "report", "a heading goes with what follows it*", "report/flow.cpp",
     "+ 0.4 * k_gap + below);", "+ 0.4 * k_gap + 0.0 * below);"),
    ("D", "the window forgot its wishes where it was ended by a signal",
     "whole", "input_lost", "screen/window.cpp",
     "        keep_wishes(desk.wishes(), kept);\n        shown = now;", "        shown = now;"),
    ("E", "a picture of the drift bore neither plate nor day nor air",
     "whole", "faces", "main/drift.cpp",
     "        chart.title = report::title_of(history);\n", ""),
    ("E", "in German a drift with a step was told as something that went wrong",
     "wording", "every text can be said*", "wording/phrases_advice.hpp",
     "{0} sprang zwischen {2}", "{} sprang zwischen {2}"),
)


def run(words, timeout):
    try:
        return subprocess.run(words, capture_output=True, text=True, errors="replace", timeout=timeout)
    except subprocess.TimeoutExpired as late:
        return subprocess.CompletedProcess(late.cmd, None, "", f"still running after {timeout} s")


def outcome(build, room, test, edits):
    """What the test says with the fault back: a line of its words where it fails."""
    was = {}
    try:
        for file, old, new in zip(edits[::3], edits[1::3], edits[2::3]):
            path = pathlib.Path("src", file)
            text = path.read_text(encoding="utf-8")
            was.setdefault(path, text)
            if text.count(old) != 1:
                return "NOT TRIED: what was mended reads otherwise now"
            path.write_text(text.replace(old, new), encoding="utf-8")
        built = run(["cmake", "--build", build, "--target", "platewright" if room == "whole" else f"{room}_test"], None)
        if built.returncode != 0:
            return "NOT TRIED: the compiler refuses it: " + next((line for line in built.stdout.splitlines() if "error:" in line), "")
        tested = run(["ctest", "--test-dir", build, "-R", f"^whole: {test}$", "--output-on-failure", "--no-tests=error"] if room == "whole" else
                     [f"{build}/bin/{room}_test", test.replace(",", "\\,"), "-w", "NoTests"], TOO_LONG_S)
    finally:
        for path, text in was.items():
            path.write_text(text, encoding="utf-8")
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
            told = [one.strip() for one in lines[i + 1:i + 6] if one.strip() and not one.strip().startswith(("{Unknown", "due to"))]
            return told[0] if told else line
        if line.startswith("FAILED: "):
            return line[len("FAILED: "):]
    return next((line.strip() for line in lines if "signal" in line or "ssert" in line or "terminate" in line), lines[-1] if lines else "")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("--build", default="build/release")
    parser.add_argument("faults", nargs="*", help="their numbers; all unless said")
    given = parser.parse_args()
    if subprocess.run(["git", "diff", "--quiet", "--", "src"], check=False).returncode != 0:
        sys.exit("src/ has changes that are not committed: commit or lay them aside first; nothing was touched.")
    missed = 0
    for number, what, room, test, *edits in FAULTS:
        if given.faults and number not in given.faults:
            continue
        said = outcome(given.build, room, test, edits)
        missed += not said.startswith("noticed")
        print(f"| {number} | {what} | {room}: {test} | {said.replace('|', '&#124;')} |", flush=True)
    sys.exit(1 if missed else 0)


if __name__ == "__main__":
    main()
