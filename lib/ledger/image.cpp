#include "ledger/image.hpp"

#include <numeric>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

digest digest_from(image_bytes& from) {
    digest value{};
    const auto bytes = from.take(value.size());
    std::copy(bytes.begin(), bytes.end(), value.begin());
    return value;
}

/// The header, held to what stands before it and to its body.
image_segment checked(std::string_view bytes, const image_segment* before) {
    image_bytes header{bytes.substr(0, image_header_bytes)};
    if (header.take(image_begins.size()) != image_begins) throw unusable_image("it is no image of a ledger");
    image_segment made;
    const auto body = header.whole<std::uint64_t>();
    made.from = header.whole<entry_no>(), made.to = header.whole<entry_no>();
    made.head = digest_from(header);
    const auto fingerprint = digest_from(header), earlier = digest_from(header), of_body = digest_from(header);
    sha256 hasher;
    made.checksum = hasher.of(bytes.substr(0, image_header_bytes - made.checksum.size()));
    if (digest_from(header) != made.checksum) throw unusable_image("its checksum is of other bytes");
    if (fingerprint != layout_of_images().fingerprint) throw unusable_image("another version of the program made it");
    if (earlier != (before == nullptr ? digest{} : before->checksum) ||
        made.from != (before == nullptr ? 1 : before->to + 1) || made.to < made.from)
        throw unusable_image("its parts do not follow on each other");
    if (body > bytes.size() - image_header_bytes) throw unusable_image("it is cut short");
    made.bytes = bytes.substr(0, image_header_bytes + body);
    if (hasher.of(made.bytes.substr(image_header_bytes)) != of_body)
        throw unusable_image("its checksum is of other bytes");
    return made;
}

void read_texts(image_bytes& from, numbered_texts& to) {
    const auto count = from.whole<std::uint64_t>(), bytes = from.whole<std::uint64_t>();
    const image_array lengths{from, count};
    const auto all = from.take(bytes);
    if (count > bytes) throw unusable_image("it holds empty texts");
    std::vector<std::uint32_t> each(count);
    lengths.read(0, std::span{each});
    if (!to.add(all, each)) throw unusable_image("it holds texts of other lengths than it says");
}

image_rows rows_from(image_bytes& from, const kind_info& kind) {
    image_rows made;
    made.count = from.whole<std::uint64_t>();
    if (made.count == 0) return made;
    made.entries = {from, made.count};
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (layout_of_images().of(kind.which)[i] != image_layout::left_out) made.cells[i] = {from, made.count};
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i)
        made.worked_out[i] = {from, made.count};
    return made;
}

} // namespace

image::image() : texts_(layout_of_images().groups) {
    for (auto& each : texts_)
        each = std::make_shared<numbered_texts>();
}

void image::add(std::string bytes) {
    const auto owner = std::make_shared<const std::string>(std::move(bytes));
    if (add(owner, *owner) != owner->size()) throw unusable_image("more follows than it says");
}

void image::add_all(image_memory bytes) {
    const auto owner = std::make_shared<const image_memory>(std::move(bytes));
    for (std::string_view left{owner->bytes.get(), owner->size}; !left.empty();)
        left.remove_prefix(add(owner, left));
}

std::size_t image::add(std::shared_ptr<const void> owner, std::string_view bytes) {
    auto made = checked(bytes, segments_.empty() ? nullptr : &segments_.back());
    image_bytes body{made.bytes.substr(image_header_bytes)};
    for (auto& each : texts_)
        read_texts(body, *each);
    for (const auto& kind : all_kinds())
        made.rows[static_cast<std::size_t>(kind.which)] = rows_from(body, kind);
    if (!body.empty()) throw unusable_image("more follows than it says");
    kept_.push_back(std::move(owner));
    segments_.push_back(std::move(made));
    return segments_.back().bytes.size();
}

void image::cut_to(entry_no last) {
    while (reach() > last)
        segments_.pop_back();
}

std::uint64_t image::rows(kind which) const {
    return std::accumulate(segments_.begin(), segments_.end(), std::uint64_t{0},
                           [&](std::uint64_t sum, const image_segment& each) {
                               return sum + each.rows[static_cast<std::size_t>(which)].count;
                           });
}

numbered_ids::texts_of_kinds image::ids() const {
    numbered_ids::texts_of_kinds ids;
    std::copy_n(texts_.begin(), kind_count, ids.begin());
    return ids;
}

coded_columns image::columns(const kind_info& of, const numbered_ids& ids) const {
    coded_columns made;
    for (std::size_t i = 0; i < of.columns.size(); ++i) {
        const auto group = layout_of_images().of(of.which)[i];
        made[i].ids = &ids;
        if (group >= 0) made[i].texts = texts_[static_cast<std::size_t>(group)].get();
        if (group >= 0 && static_cast<std::size_t>(group) < kind_count) made[i].named = static_cast<kind>(group);
    }
    return made;
}

void image::read(const image_segment& from, const kind_info& of, std::uint64_t first, coded_rows& to) const {
    const auto& rows = from.rows[static_cast<std::size_t>(of.which)];
    to.count = std::min<std::uint64_t>(coded_rows::most, rows.count - first);
    to.key = of.key[0];
    std::array<std::uint64_t, coded_rows::most> wide{};
    const std::span some{wide.data(), to.count};
    rows.entries.read(first, some);
    for (std::size_t i = 0; i < to.count; ++i)
        to.by[i].entry = to.by[i].order = static_cast<entry_no>(some[i]);
    for (std::size_t column = 0; column < of.columns.size(); ++column) {
        const auto group = layout_of_images().of(of.which)[column];
        const std::span cells{to.cells[column].data(), to.count};
        rows.cells[column].read(first, cells);
        if (group < 0) continue;
        if (*std::max_element(cells.begin(), cells.end()) >= texts_[static_cast<std::size_t>(group)]->size())
            throw unusable_image("it names a text that it does not hold");
    }
    for (std::size_t number = 0; number < of.worked_out.size(); ++number) {
        rows.worked_out[number].read(first, some);
        for (std::size_t i = 0; i < to.count;
             ++i) { // 0 for none; else twice the number, and where it is below 0 turned
            const auto half = static_cast<std::int64_t>((some[i] - 1) >> 1U);
            to.worked_out[number][i] =
                some[i] == 0 ? std::nullopt : std::optional{(some[i] - 1) % 2 == 0 ? half : ~half};
        }
    }
}

} // namespace tarewell::ledger
