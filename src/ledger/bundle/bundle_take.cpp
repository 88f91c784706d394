// The part of Store that takes bundles in.
#include "base/failure.hpp"
#include "ledger/bundle/tree_merge.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/store_impl.hpp"
#include "ledger/tables/rows.hpp"
#include "ledger/tables/schema.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <map>
#include <nlohmann/json.hpp>
#include <utility>

namespace platewright::ledger {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t k_largest_text = 64U << 20U;      // an instrument of twenty thousand taps
constexpr std::size_t k_largest_recording = 64U << 20U; // minutes, where a tap is seconds

/// A Fault on its way through code that returns no Result.
struct Refused {
    base::Fault fault;
};
struct Stopped {};

/// The recordings of one bundle: verified, written, and removed again unless all of it is kept.
class Recordings {
public:
    Recordings(Store::Impl& ledger, const ZipReader& zip, bool only_look, TakeReport& report,
               const Progress& progress)
        : ledger_{ledger}, zip_{zip}, only_look_{only_look}, report_{report}, progress_{progress} {
        for (const std::string& name : zip.names())
            total_ += name.starts_with("recordings/") ? 1 : 0;
    }
    ~Recordings() {
        std::error_code ignored; // one that stays is named by no tap and does no harm
        for (const std::filesystem::path& file : written_)
            std::filesystem::remove(file, ignored);
    }
    Recordings(const Recordings&) = delete;
    Recordings& operator=(const Recordings&) = delete;
    Recordings(Recordings&&) = delete;
    Recordings& operator=(Recordings&&) = delete;

    void keep() { written_.clear(); }

    bool bring(const std::string& hash) {
        const auto known = seen_.find(hash);
        return known != seen_.end() ? known->second
                                    : seen_.emplace(hash, bring_new(hash)).first->second;
    }

private:
    bool bring_new(const std::string& hash) {
        if (!is_hex(hash, 64))
            throw BadBundle{"a recording's name that is none"};
        const double share = static_cast<double>(seen_.size()) / std::max(1.0, total_);
        if (progress_ && !progress_(std::min(1.0, share)))
            throw Stopped{};
        const bool known = is_known_recording(*ledger_.database, hash);
        if (known && is_what_its_name_says(ledger_.recording_file(hash), hash)) {
            ++report_.recordings_there;
            return true;
        }
        const std::string name = "recordings/" + hash + ".flac";
        if (!zip_.holds(name))
            return known; // lost or damaged here, and not to be had from the bundle either
        auto bytes = zip_.read(name, k_largest_recording);
        if (!bytes)
            throw Refused{bytes.fault()};
        take(hash, *bytes, known);
        ++(known ? report_.recordings_mended : report_.recordings_added);
        return true;
    }

    void take(const std::string& hash, const std::vector<std::byte>& bytes, bool known) {
        if (sha256_hex(bytes) != hash)
            throw BadBundle{"a recording that is not what its name says: " + hash};
        const Sound sound = decoded(bytes);
        const std::filesystem::path file = ledger_.recording_file(hash);
        if (!only_look_ && !is_what_its_name_says(file, hash)) {
            ledger_.write_recording(hash, bytes);
            if (!known) // a whole one in a damaged one's place is a gain, whatever comes of the
                        // rest
                written_.push_back(file);
        }
        if (known)
            return;
        know_recording(*ledger_.database, hash, sound.sample_rate_hz, sound.samples.size(),
                       bytes.size());
    }

    static Sound decoded(const std::vector<std::byte>& bytes) {
        try {
            return decode_recording(bytes);
        } catch (const base::Failure& failure) { // its sentence is about a recording of our own
            throw BadBundle{failure.detail()};
        }
    }

    Store::Impl& ledger_;
    const ZipReader& zip_;
    bool only_look_;
    TakeReport& report_;
    const Progress& progress_;
    double total_ = 0;
    std::map<std::string, bool> seen_;
    std::vector<std::filesystem::path> written_;
};

Json read_json(const ZipReader& zip, const std::string& name, const Progress& progress) {
    const auto bytes = zip.read(name, k_largest_text);
    if (!bytes)
        throw Refused{bytes.fault()};
    const std::string_view text{reinterpret_cast<const char*>(bytes->data()), bytes->size()};
    bool stopped = false;
    try {
        return parse_bundled(text, name, [&] {
            stopped = progress && !progress(0.0);
            return !stopped;
        });
    } catch (const BadBundle&) {
        if (stopped)
            throw Stopped{};
        throw;
    }
}

/// The uids of the instruments in it, once its head says that it is one of ours.
std::vector<std::string> read_head(const ZipReader& zip, const Progress& progress) {
    const Json head = zip.holds("bundle.json") ? read_json(zip, "bundle.json", progress) : Json{};
    if (!head.is_object() || !head.contains("format") || !head["format"].is_string() ||
        !head["format"].get_ref<const std::string&>().starts_with("platewright.bundle/"))
        throw Refused{{"This zip file is no bundle of Platewright: it has no bundle.json that says "
                       "so. Nothing was taken in."}};
    const auto tables = head.find("tables");
    const bool known = tables != head.end() && tables->is_number_integer() &&
                       tables->get<double>() <= static_cast<double>(schema_steps().size());
    if (head["format"] != k_bundle_format || !known)
        throw Refused{{"This bundle was made by a newer Platewright. Install the newer program to "
                       "take it in; nothing was changed."}};
    std::vector<std::string> uids;
    const auto list = head.find("instruments");
    if (list == head.end() || !list->is_array())
        throw BadBundle{"bundle.json lists no instruments"};
    for (const Json& uid : *list) {
        if (!uid.is_string() || !is_hex(uid.get_ref<const std::string&>(), 32))
            throw BadBundle{"bundle.json lists a uid that is none"};
        uids.push_back(uid.get<std::string>());
    }
    return uids;
}

/// What no recording can bear out: a beginning outside it, another rate than its own.
void check_taps(Database& database, const std::string& table, const std::vector<Id>& taps) {
    Statement bad{database,
                  "SELECT t.onset_index < 0 OR (r.hash IS NOT NULL AND (t.onset_index >= r.frames "
                  "OR abs(t.sample_rate_hz - r.sample_rate_hz) > 0.5)) FROM " +
                      table + " t LEFT JOIN recording r ON r.hash = t.recording WHERE t.id = ?"};
    for (const Id tap : taps) {
        bad.bind_all(tap);
        if (bad.step() && bad.truth())
            throw BadBundle{"a tap that is at odds with its recording"};
    }
}

void take_all(Store::Impl& ledger, const ZipReader& zip, TreeMerge& merge,
              const Progress& progress) {
    Database& database = *ledger.database;
    const std::vector<std::string> instruments = read_head(zip, progress);
    for (const BundledTable& table :
         bundled_tables()) { // what instruments may refer to comes first
        const std::string name = std::string{table.name} + ".json";
        if (!table.parent.empty() || table.name == "instrument" || !zip.holds(name))
            continue;
        const Json rows = read_json(zip, name, progress);
        if (!rows.is_array())
            throw BadBundle{name + " is no list"};
        for (const Json& row : rows)
            merge.take(table.name, row);
    }
    for (const std::string& uid : instruments) {
        const Json row = read_json(zip, "instruments/" + uid + ".json", progress);
        if (!row.is_object() || !row.contains("uid") || row["uid"] != uid)
            throw BadBundle{"an instrument that is not the one of its name"};
        merge.take("instrument", row);
    }
    check_taps(database, "tap", merge.taps());
    check_taps(database, "wood_tap", merge.wood_taps());
}

base::Fault bad(const std::string& detail) {
    return {"This bundle holds what no ledger can, so it is damaged or was made by another hand. "
            "Nothing was taken in.",
            detail};
}

} // namespace

base::Result<TakeReport> Store::take_bundle(const std::filesystem::path& file,
                                            const TakeOptions& options, const Progress& progress) {
    const auto zip = ZipReader::open(file);
    if (!zip)
        return zip.fault();
    TakeReport report;
    try {
        if (options.prefer_bundle && !options.only_look && !read_only())
            copy_aside(*impl_->database, impl_->folder / "backups", "before-bundle");
        Transaction transaction = impl_->change();
        Recordings recordings{*impl_, *zip, options.only_look, report, progress};
        TreeMerge merge{*impl_->database, options, report,
                        [&recordings](const std::string& hash) { return recordings.bring(hash); }};
        take_all(*impl_, *zip, merge, progress);
        for (const Id plate : merge.plates())
            impl_->history(plate);
        if (!options.only_look) {
            if (!merge.journal().empty())
                ledger::set_setting(
                    *impl_->database,
                    fmt::format("{}{:020}", k_import_key, base::now().ms_since_epoch),
                    merge.journal().text(file.filename().string()));
            transaction.commit();
            recordings.keep();
        }
        return report;
    } catch (const Refused& refused) {
        return refused.fault;
    } catch (const StrangeWord& what) {
        return base::Fault{
            fmt::format("This bundle says “{}” where this program knows no such word: it was "
                        "made by a newer Platewright, or by another hand. Nothing was taken "
                        "in.",
                        what.word),
            what.what()};
    } catch (const BadBundle& what) {
        return bad(what.what());
    } catch (const std::invalid_argument& what) { // a table's own conditions
        return bad(what.what());
    } catch (const Stopped&) {
        TakeReport nothing;
        nothing.stopped = true;
        return nothing;
    }
}

} // namespace platewright::ledger
