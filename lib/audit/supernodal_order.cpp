#include <algorithm>
#include <numeric>
#include <stdexcept>

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>

#include "audit/supernodal_factor.hpp"

namespace tarewell::audit {

namespace {

std::size_t at(std::int64_t offset) { return static_cast<std::size_t>(offset); }

// Approximate minimum degree; returns position -> variable.
std::vector<int> minimum_degree(const symmetric_lower& gram) {
    using sparse = Eigen::SparseMatrix<double>;
    // Eigen wants int offsets; the pattern of a season is far below 2^31.
    std::vector<int> offsets(gram.start.begin(), gram.start.end());
    const Eigen::Map<const sparse> matrix(gram.size, gram.size, static_cast<Eigen::Index>(gram.row.size()),
                                          offsets.data(), gram.row.data(), gram.value.data());
    Eigen::AMDOrdering<int> ordering;
    Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> permutation;
    ordering(sparse(matrix).selfadjointView<Eigen::Lower>(), permutation);
    const auto& indices = permutation.indices();
    return {indices.data(), indices.data() + indices.size()};
}

// The lower triangle with rows and columns moved to their places.
symmetric_lower permute(const symmetric_lower& gram, const std::vector<int>& position) {
    symmetric_lower result;
    result.size = gram.size;
    result.start.assign(at(gram.size) + 1, 0);
    result.row.resize(gram.row.size());
    result.value.resize(gram.row.size());
    const auto each = [&](auto&& visit) {
        for (int j = 0; j < gram.size; ++j) {
            for (auto k = gram.start[at(j)]; k < gram.start[at(j + 1)]; ++k) {
                const auto [low, high] = std::minmax(position[at(j)], position[at(gram.row[at(k)])]);
                visit(low, high, gram.value[at(k)]);
            }
        }
    };
    each([&](int low, int, double) { ++result.start[at(low) + 1]; });
    std::partial_sum(result.start.begin(), result.start.end(), result.start.begin());
    auto next = result.start;
    each([&](int low, int high, double value) {
        const auto slot = at(next[at(low)]++);
        result.row[slot] = high;
        result.value[slot] = value;
    });
    return result;
}

// Upper pattern by columns, i.e. for each column the smaller-numbered neighbours.
std::vector<std::vector<int>> earlier_neighbours(const symmetric_lower& lower) {
    std::vector<std::vector<int>> earlier(at(lower.size));
    for (int j = 0; j < lower.size; ++j) {
        for (auto k = lower.start[at(j)]; k < lower.start[at(j + 1)]; ++k) {
            if (lower.row[at(k)] > j) {
                earlier[at(lower.row[at(k)])].push_back(j);
            }
        }
    }
    return earlier;
}

// Liu's elimination tree with path compression.
std::vector<int> elimination_tree(const std::vector<std::vector<int>>& earlier) {
    const int size = static_cast<int>(earlier.size());
    std::vector<int> parent(earlier.size(), -1);
    std::vector<int> ancestor(earlier.size(), -1);
    for (int j = 0; j < size; ++j) {
        for (int i : earlier[at(j)]) {
            while (i != -1 && i < j) {
                const int next = ancestor[at(i)];
                ancestor[at(i)] = j;
                if (next == -1) {
                    parent[at(i)] = j;
                }
                i = next;
            }
        }
    }
    return parent;
}

// Children before parents, each subtree together; returns place -> node.
std::vector<int> postorder(const std::vector<int>& parent) {
    const int size = static_cast<int>(parent.size());
    std::vector<int> head(parent.size(), -1);
    std::vector<int> sibling(parent.size(), -1);
    for (int j = size - 1; j >= 0; --j) {
        if (parent[at(j)] >= 0) {
            sibling[at(j)] = head[at(parent[at(j)])];
            head[at(parent[at(j)])] = j;
        }
    }
    std::vector<int> order;
    std::vector<int> stack;
    order.reserve(parent.size());
    for (int root = 0; root < size; ++root) {
        if (parent[at(root)] != -1) {
            continue;
        }
        stack.push_back(root);
        while (!stack.empty()) {
            const int node = stack.back();
            const int child = head[at(node)];
            if (child == -1) {
                order.push_back(node);
                stack.pop_back();
            } else {
                head[at(node)] = sibling[at(child)];
                stack.push_back(child);
            }
        }
    }
    return order;
}

// Entries in each column of the factor, diagonal included; empty when `most` is passed.
std::vector<std::int64_t> column_counts(const std::vector<std::vector<int>>& earlier, const std::vector<int>& parent,
                                        double most) {
    std::vector<std::int64_t> count(parent.size(), 1);
    std::vector<int> mark(parent.size(), -1);
    double total = 0.0;
    for (std::size_t j = 0; j < parent.size(); ++j) {
        mark[j] = static_cast<int>(j);
        for (int i : earlier[j]) {
            for (; mark[at(i)] != static_cast<int>(j); i = parent[at(i)]) {
                mark[at(i)] = static_cast<int>(j);
                ++count[at(i)];
                total += 1.0;
            }
        }
        if (total > most) {
            return {};
        }
    }
    return count;
}

struct merged_node {
    int first = 0;
    int columns = 0;
    std::int64_t rows = 0; // height of the front
    double zeros = 0.0;    // stored although zero
};

// Zeros worth storing so that fronts get wide enough for dense arithmetic (the widths and
// shares are those in common use for supernodal factors).
bool worth_merging(int columns, double zeros, double stored) {
    const double share = zeros / stored;
    return columns <= 4 || (columns <= 16 && share < 0.8) || (columns <= 48 && share < 0.1) || share < 0.05;
}

// First columns of the supernodes: fundamental ones, and the last child merged where that pays.
std::vector<int> find_supernodes(const std::vector<int>& parent, const std::vector<std::int64_t>& count) {
    std::vector<merged_node> nodes;
    for (int j = 0; j < static_cast<int>(parent.size()); ++j) {
        merged_node node{j, 1, count[at(j)], 0.0};
        if (!nodes.empty() && parent[at(j - 1)] == j) {
            const auto& child = nodes.back();
            const int columns = child.columns + 1;
            const auto rows = node.rows + child.columns;
            const double added = static_cast<double>(rows - child.rows) * static_cast<double>(child.columns);
            const double wide = columns;
            const double stored = wide * (static_cast<double>(rows) - (wide - 1.0) / 2.0);
            if (added == 0.0 || worth_merging(columns, child.zeros + added, stored)) {
                node = {child.first, columns, rows, child.zeros + added};
                nodes.pop_back();
            }
        }
        nodes.push_back(node);
    }
    std::vector<int> first;
    for (const auto& node : nodes) {
        first.push_back(node.first);
    }
    first.push_back(static_cast<int>(parent.size()));
    return first;
}

} // namespace

std::optional<supernodal_order> supernodal_order::analyse(const symmetric_lower& gram, const factor_limits& limits) {
    supernodal_order order;
    order.size_ = gram.size;
    auto sequence = minimum_degree(gram);
    std::vector<int> position(sequence.size());
    const auto place = [&] {
        for (std::size_t k = 0; k < sequence.size(); ++k) {
            position[at(sequence[k])] = static_cast<int>(k);
        }
    };
    place();
    const auto tree = elimination_tree(earlier_neighbours(permute(gram, position)));
    auto reordered = sequence;
    const auto post = postorder(tree);
    for (std::size_t k = 0; k < post.size(); ++k) {
        reordered[k] = sequence[at(post[k])];
    }
    sequence = std::move(reordered);
    place();
    const auto permuted = permute(gram, position);
    const auto earlier = earlier_neighbours(permuted);
    const auto parent = elimination_tree(earlier);
    const auto count = column_counts(earlier, parent, limits.stored);
    if (count.empty() && gram.size > 0) {
        return std::nullopt;
    }
    double multiplications = 0.0;
    for (const auto c : count) {
        multiplications += static_cast<double>(c) * static_cast<double>(c);
    }
    if (multiplications > limits.multiplications) {
        return std::nullopt;
    }
    order.multiplications_ = multiplications;
    order.position_ = std::move(position);
    order.variable_ = std::move(sequence);
    order.first_ = find_supernodes(parent, count);
    order.build_rows(permuted);
    order.map_entries(permuted);
    return order;
}

void supernodal_order::build_rows(const symmetric_lower& permuted) {
    const int nodes = supernodes();
    supernode_of_.resize(at(size_));
    parent_.assign(at(nodes), -1);
    std::vector<std::vector<int>> children(at(nodes));
    for (int s = 0; s < nodes; ++s) {
        for (int c = first_[at(s)]; c < first_[at(s + 1)]; ++c) {
            supernode_of_[at(c)] = s;
        }
    }
    row_start_.assign(1, 0);
    panel_start_.assign(1, 0);
    std::vector<int> mark(at(size_), -1);
    std::vector<int> below;
    for (int s = 0; s < nodes; ++s) {
        const int end = first_[at(s + 1)];
        below.clear();
        const auto add = [&](int row) {
            if (row >= end && mark[at(row)] != s) {
                mark[at(row)] = s;
                below.push_back(row);
            }
        };
        for (int c = first_[at(s)]; c < end; ++c) {
            for (auto k = permuted.start[at(c)]; k < permuted.start[at(c + 1)]; ++k) {
                add(permuted.row[at(k)]);
            }
            row_.push_back(c);
        }
        for (const int child : children[at(s)]) {
            const auto width = first_[at(child + 1)] - first_[at(child)];
            for (auto k = row_start_[at(child)] + width; k < row_start_[at(child + 1)]; ++k) {
                add(row_[at(k)]);
            }
        }
        std::sort(below.begin(), below.end());
        row_.insert(row_.end(), below.begin(), below.end());
        row_start_.push_back(static_cast<std::int64_t>(row_.size()));
        const auto height = row_start_[at(s + 1)] - row_start_[at(s)];
        panel_start_.push_back(panel_start_.back() + height * (end - first_[at(s)]));
        if (!below.empty()) {
            parent_[at(s)] = supernode_of_[at(below.front())];
            children[at(parent_[at(s)])].push_back(s);
        }
    }
    row_in_parent_.assign(row_.size(), -1);
    for (int s = 0; s < nodes; ++s) {
        if (parent_[at(s)] < 0) {
            continue;
        }
        const auto begin = row_start_[at(parent_[at(s)])];
        auto place = begin;
        for (auto k = row_start_[at(s)] + (first_[at(s + 1)] - first_[at(s)]); k < row_start_[at(s + 1)]; ++k) {
            while (row_[at(place)] != row_[at(k)]) {
                ++place;
            }
            row_in_parent_[at(k)] = static_cast<int>(place - begin);
        }
    }
}

void supernodal_order::map_entries(const symmetric_lower& permuted) {
    entry_start_.assign(1, 0);
    std::vector<int> local(at(size_), 0);
    for (int s = 0; s < supernodes(); ++s) {
        for (auto k = row_start_[at(s)]; k < row_start_[at(s + 1)]; ++k) {
            local[at(row_[at(k)])] = static_cast<int>(k - row_start_[at(s)]);
        }
        for (int c = first_[at(s)]; c < first_[at(s + 1)]; ++c) {
            for (auto k = permuted.start[at(c)]; k < permuted.start[at(c + 1)]; ++k) {
                entry_row_.push_back(local[at(permuted.row[at(k)])]);
                entry_column_.push_back(c - first_[at(s)]);
                entry_value_.push_back(permuted.value[at(k)]);
            }
        }
        entry_start_.push_back(static_cast<std::int64_t>(entry_row_.size()));
    }
}

supernodal_order::cell supernodal_order::locate(int i, int j) const {
    const auto [low, high] = std::minmax(position_[at(i)], position_[at(j)]);
    const int s = supernode_of_[at(low)];
    const auto begin = row_.begin() + row_start_[at(s)];
    const auto end = row_.begin() + row_start_[at(s + 1)];
    const auto found = std::lower_bound(begin, end, high);
    if (found == end || *found != high) {
        throw std::logic_error("pair outside the pattern of the factor");
    }
    return {s, static_cast<int>(found - begin), low - first_[at(s)]};
}

} // namespace tarewell::audit
