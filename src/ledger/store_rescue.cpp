// The part of Store that brings back what lies beside the database and not in it.
#include "base/failure.hpp"
#include "base/level.hpp"
#include "base/loudest.hpp"
#include "ledger/bundle/tree_merge.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/files/tap_label.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/mend/facts.hpp"
#include "ledger/store_impl.hpp"
#include "ledger/tables/rows.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <nlohmann/json.hpp>
#include <utility>

namespace platewright::ledger {
namespace {

using Json = nlohmann::ordered_json;
namespace fs = std::filesystem;

double peak_dbfs(const std::vector<float>& samples) {
    return base::amplitude_to_db(static_cast<double>(base::loudest(samples)));
}

double rms_dbfs(std::span<const float> samples) {
    double squares = 0.0;
    for (const float sample : samples)
        squares += static_cast<double>(sample) * static_cast<double>(sample);
    const double count = std::max<double>(1.0, static_cast<double>(samples.size()));
    return base::amplitude_to_db(std::sqrt(squares / count));
}

/// A kept recording that no tap names, with what it says of itself.
struct Found {
    std::string hash;
    std::size_t bytes = 0;
    Sound sound;
    TapLabel label;
};

/// Nothing where the file is damaged or another program's.
std::optional<Found> read_found(const Store::Impl& ledger, const std::string& hash) {
    try {
        const std::vector<std::byte> bytes = read_whole(ledger.recording_file(hash));
        Sound sound = decode_recording(bytes);
        auto label = label_from_text(sound.description);
        const auto frames = static_cast<std::int64_t>(sound.samples.size());
        if (sha256_hex(bytes) != hash || !label || label->onset_index < 0 ||
            label->onset_index >= frames)
            return std::nullopt;
        return Found{hash, bytes.size(), std::move(sound), *std::move(label)};
    } catch (const base::Failure&) {
        return std::nullopt; // one damaged file must not keep the others from being rescued
    }
}

/// One rescue of one ledger.
class Rescue {
public:
    explicit Rescue(Store::Impl& ledger) : ledger_{ledger} {
        if (ledger_.witness)
            ledger_.witness->hold(); // what is read here must not be written over meanwhile
    }
    ~Rescue() {
        if (ledger_.witness)
            ledger_.witness->forget_held();
    }
    Rescue(const Rescue&) = delete;
    Rescue& operator=(const Rescue&) = delete;
    Rescue(Rescue&&) = delete;
    Rescue& operator=(Rescue&&) = delete;

    RescueReport run() {
        // Sessions and woods first, then the instruments' own files, whose word on plates is the
        // last.
        std::vector<fs::path> files = facts_files(ledger_.folder);
        std::ranges::stable_sort(files, {}, [](const fs::path& file) {
            return file.filename().string().starts_with("instrument-") ? 1 : 0;
        });
        for (const fs::path& file : files)
            take_facts(file, {.prefer_bundle = true});
        for (const fs::path& file : facts_set_aside(ledger_.folder))
            take_facts(file, {}); // what was done since has the word where they differ
        std::vector<std::pair<base::Timestamp, std::string>> newest_first;
        for (const std::string& hash : unclaimed_recordings(*ledger_.database, ledger_.folder)) {
            if (const auto found = read_found(ledger_, hash))
                newest_first.emplace_back(found->label.at, hash);
            else
                ++report_.unreadable;
        }
        // What the newest says of its session is what was known last.
        std::ranges::sort(newest_first, std::greater{});
        for (const auto& [at, hash] : newest_first)
            if (const auto found = read_found(ledger_, hash))
                take_recording(*found);
        Transaction transaction = ledger_.change();
        ledger_.witness->release(highest_number_);
        ledger_.witness->note_missing();
        transaction.commit();
        return report_;
    }

private:
    void take_facts(const fs::path& file, const TakeOptions& options) {
        try {
            const std::vector<std::byte> bytes = read_whole(file);
            Json tree = parse_bundled({reinterpret_cast<const char*>(bytes.data()), bytes.size()},
                                      file.filename().string());
            if (tree.is_object() && file.filename().string().starts_with("session-"))
                leave_known_owners(*ledger_.database, tree["instrument"]);
            highest_number_ = std::max(highest_number_, number_of_facts(file));
            if (!take_tree(tree, options))
                ++report_.facts_unreadable;
        } catch (const BadBundle&) {
            ++report_.facts_unreadable;
        } catch (const base::Failure&) {
            if (!ledger_.why_read_only.empty())
                throw;
            ++report_.facts_unreadable;
        }
    }

    void take_recording(const Found& found) {
        try {
            Json tree =
                found.label.facts.empty() ? Json{} : parse_bundled(found.label.facts, found.hash);
            if (tree.is_object())
                name_recording(tree, found.hash);
            bool taken = take_tree(tree, {});
            if (taken &&
                !is_known_recording(*ledger_.database,
                                    found.hash)) { // its tap is there, and names another: damage
                for (const char* root : {"instrument", "wood"})
                    if (tree.contains(root))
                        leave_tap_only(tree[root]);
                taken = take_tree(tree, {.prefer_bundle = true});
            }
            if (taken)
                return;
        } catch (const BadBundle&) {
            // Facts that can't be true: its label may still say enough.
        }
        ++(put_back(found) ? report_.taps : report_.strangers);
    }

    /// One tree of facts, all of it or nothing; false where it holds what no ledger can.
    bool take_tree(const Json& tree, const TakeOptions& options) {
        const bool is_wood = tree.is_object() && tree.contains("wood");
        const char* root = is_wood ? "wood" : "instrument";
        if (!tree.is_object() || !tree.contains(root))
            return false;
        TakeReport taken;
        try {
            Database& database = *ledger_.database;
            Transaction transaction = ledger_.change();
            bool news = options.prefer_bundle && lift_from_bin(database, root, tree[root]);
            TreeMerge merge{database, options, taken,
                            [this](const std::string& hash) { return bring(hash); }};
            merge.take(root, tree[root]);
            if (options.prefer_bundle)
                news = put_into_bin(database, root, tree[root]) || news;
            for (const Id plate : merge.plates())
                ledger_.history(plate); // words that no ledger knows are found by reading it back
            for (const TakeReport::Kind& kind : taken.kinds)
                news = news || kind.added > 0;
            if (news || (options.prefer_bundle && !taken.differences.empty()))
                transaction.commit();
        } catch (const UnknownWord&) {
            return false;
        } catch (const std::invalid_argument&) { // a table's own conditions
            return false;
        }
        count(taken);
        if (options.prefer_bundle)
            report_.corrected += static_cast<int>(taken.differences.size());
        return true;
    }

    void count(const TakeReport& taken) {
        const std::array<std::pair<const char*, int*>, 6> kinds{
            {{"instruments", &report_.instruments},
             {"plates", &report_.plates},
             {"sessions", &report_.sessions},
             {"woods", &report_.woods},
             {"taps", &report_.taps},
             {"taps of wood", &report_.taps}}};
        for (const TakeReport::Kind& kind : taken.kinds)
            for (const auto& [table, number] : kinds)
                if (kind.table == table)
                    *number += kind.added;
    }

    /// Makes a recording be known to the database; false where it is lost or damaged.
    bool bring(const std::string& hash) {
        if (is_known_recording(*ledger_.database, hash))
            return true;
        if (!is_hex(hash, 64))
            throw BadBundle{"a recording's name that is none"};
        const auto found = read_found(ledger_, hash);
        if (found)
            add_recording(*found);
        return found.has_value();
    }

    void add_recording(const Found& found) {
        know_recording(*ledger_.database, found.hash, found.sound.sample_rate_hz,
                       found.sound.samples.size(), found.bytes);
    }

    /// From its label alone, as recordings had it before there were facts; false where neither a
    /// session nor a test of wood is known that it belongs to.
    bool put_back(const Found& found) {
        Database& database = *ledger_.database;
        const TapLabel& label = found.label;
        const auto session =
            database.first_integer("SELECT id FROM session WHERE uid = ?", label.session_uid);
        const auto test =
            database.first_integer("SELECT id FROM wood_test WHERE uid = ?", label.session_uid);
        if (!session && !test)
            return false;
        const std::vector<float>& samples = found.sound.samples;
        TapRecord tap{.session = session ? *session : *test,
                      .at = label.at,
                      .verdict = label.verdict,
                      .spot = label.spot,
                      .sample_rate_hz = static_cast<double>(found.sound.sample_rate_hz),
                      .onset_frame = label.onset_frame,
                      .onset_index = label.onset_index,
                      .peak_dbfs = peak_dbfs(samples),
                      .noise_dbfs = rms_dbfs(
                          std::span{samples}.first(static_cast<std::size_t>(label.onset_index))),
                      .recording = found.hash};
        Transaction transaction = ledger_.change();
        add_recording(found);
        session ? insert_row(database, tap) : insert_row(database, WoodTapRecord{tap});
        transaction.commit();
        return true;
    }

    Store::Impl& ledger_;
    RescueReport report_;
    std::int64_t highest_number_ = 0; ///< of the files of facts
};

} // namespace

RescueReport Store::rescue() { return Rescue{*impl_}.run(); }

} // namespace platewright::ledger
