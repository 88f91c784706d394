#include "audio/mended_file.hpp"

#include <algorithm>
#include <array>
#include <fstream>
#include <optional>
#include <string_view>

namespace platewright::audio {
namespace {

// What programs write that can't know yet how long it gets: all ones, or the greatest that a signed
// number holds, give or take a block. A whole file of that size has three hours of sound.
constexpr std::uint32_t k_least_of_streams = 0x7FFF0000;

constexpr int k_most_chunks = 64; // before the sound

struct Chunk {
    std::array<char, 4> name{};
    std::uint32_t size = 0;
    std::string_view id() const { return {name.data(), name.size()}; }
};

std::uint32_t little_endian(const std::array<unsigned char, 4>& bytes) {
    return bytes[0] | static_cast<std::uint32_t>(bytes[1]) << 8U |
           static_cast<std::uint32_t>(bytes[2]) << 16U |
           static_cast<std::uint32_t>(bytes[3]) << 24U;
}

std::optional<Chunk> read_chunk(std::istream& in) {
    Chunk chunk;
    std::array<unsigned char, 4> size{};
    in.read(chunk.name.data(), 4);
    in.read(reinterpret_cast<char*>(size.data()), 4);
    chunk.size = little_endian(size);
    return in ? std::optional{chunk} : std::nullopt;
}

/// Whether what follows is a chunk that ends where the file does, and so no sound.
bool is_chunk_to_the_end(std::istream& in, std::int64_t left) {
    const auto next = read_chunk(in);
    if (!next)
        return true;
    for (const char c : next->name)
        if (c < ' ' || c > '~')
            return false;
    return std::int64_t{next->size} + 8 <= left;
}

StatedLength of_wav(std::istream& in, std::int64_t bytes) {
    in.seekg(12);
    for (int i = 0; i < k_most_chunks; ++i) {
        const std::int64_t at = in.tellg();
        const auto chunk = read_chunk(in);
        if (!chunk)
            break;
        const std::int64_t left = bytes - at - 8;
        if (chunk->id() != "data") {
            in.seekg(at + 8 + chunk->size + chunk->size % 2);
            continue;
        }
        if (chunk->size == 0 && left > 0 && !is_chunk_to_the_end(in, left))
            return {true, at + 4,
                    static_cast<std::uint32_t>(std::min<std::int64_t>(left, 0xFFFFFFF0))};
        return {chunk->size >= k_least_of_streams && chunk->size > left};
    }
    return {};
}

StatedLength of_flac(std::istream& in) {
    std::array<unsigned char, 26> head{};
    in.seekg(0);
    in.read(reinterpret_cast<char*>(head.data()), head.size());
    const bool has_total =
        (head[21] & 0x0FU) != 0 || head[22] != 0 || head[23] != 0 || head[24] != 0 || head[25] != 0;
    return {in && !has_total};
}

} // namespace

StatedLength stated_length(const std::filesystem::path& file) {
    std::error_code error;
    const auto bytes = static_cast<std::int64_t>(std::filesystem::file_size(file, error));
    std::ifstream in(file, std::ios::binary);
    std::array<char, 12> head{};
    in.read(head.data(), head.size());
    if (error || !in)
        return {};
    const std::string_view name{head.data(), head.size()};
    if (name.starts_with("RIFF") && name.ends_with("WAVE"))
        return of_wav(in, bytes);
    return name.starts_with("fLaC") ? of_flac(in) : StatedLength{};
}

MendedFile::MendedFile(const std::filesystem::path& file, const StatedLength& mend)
    : in_(file, std::ios::binary), mend_(mend) {
    in_.seekg(0, std::ios::end);
    length_ = in_.tellg();
}

SF_VIRTUAL_IO& MendedFile::calls() {
    static SF_VIRTUAL_IO calls{
        [](void* self) { return static_cast<MendedFile*>(self)->length_; },
        [](sf_count_t offset, int whence, void* self) {
            return static_cast<MendedFile*>(self)->seek(offset, whence);
        },
        [](void* into, sf_count_t count, void* self) {
            return static_cast<MendedFile*>(self)->read(static_cast<char*>(into), count);
        },
        [](const void*, sf_count_t, void*) { return sf_count_t{0}; }, // it is only read
        [](void* self) { return static_cast<MendedFile*>(self)->at_; }};
    return calls;
}

sf_count_t MendedFile::seek(sf_count_t offset, int whence) {
    const sf_count_t from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? at_ : length_;
    at_ = std::clamp<sf_count_t>(from + offset, 0, length_);
    return at_;
}

sf_count_t MendedFile::read(char* into, sf_count_t count) {
    in_.clear();
    in_.seekg(at_);
    in_.read(into, std::max<sf_count_t>(count, 0));
    const sf_count_t got = in_.gcount();
    for (int byte = 0; byte < 4; ++byte) {
        const sf_count_t place = mend_.size_at + byte - at_;
        if (place >= 0 && place < got)
            into[place] = static_cast<char>(mend_.size >> (8 * byte) & 0xFFU);
    }
    at_ += got;
    return got;
}

} // namespace platewright::audio
