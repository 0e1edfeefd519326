"""The cutting engine in whole numbers: least cost of boards, proven where it can be.

The problem. Items i of size wᵢ are wanted dᵢ times; boards s hold Wₛ, cost cₛ cents, and there are at most bₛ.
A pattern p of board s is a vector a of whole numbers, 0 ≤ aᵢ ≤ dᵢ, with Σ wᵢ·aᵢ ≤ Wₛ. With xₚ boards cut so,

    minimize    Σₛ cₛ·Σₚ xₚ
    subject to  Σₚ aᵢₚ·xₚ ≥ dᵢ          for every item       (prices πᵢ ≥ 0)
                lₛ ≤ yₛ = Σₚ∈ₛ xₚ ≤ uₛ    for every board
                x whole numbers.

Patterns are generated as they are needed: the one knapsack V(c) = max {Σ πᵢ·aᵢ : Σ wᵢ·aᵢ ≤ c} prices all boards,
and a pattern of board s is wanted where V(Wₛ) is above cₛ less the price of its row (Gilmore and Gomory 1961, 1963).

The bound. For any π ≥ 0 no plan within lₛ ≤ yₛ ≤ uₛ costs less than Σ πᵢ·dᵢ + Σₛ min over yₛ of yₛ·(cₛ - V(Wₛ));
it is computed in whole numbers from rounded prices, so it holds whatever the solver did (Farley 1990 scales π so
that no difference is negative). It is then raised to what whole boards can cost. Since the cost depends on y
alone, branching on y (boards of each length) closes most of what is left, every node with a bound of that kind.

The finish. With prices π and a bound L, a plan that costs C at most uses no pattern whose price is above the worth of its
items by more than C - L; where the patterns left are few, the integer program over them decides, as for a choice of
boards (`census`). Its verdict is the solver's word, and is reported as such.

Joints. A run is a path through a network (nodes: its ends and the places a joint may take; arcs: the pieces between).
The runs of one wall whose joints must keep a stagger are a stack k, and a plan q of it is one path for each of its runs,
so that no two joints stand too near. With z_q for the plan taken, n_iq its pieces of item i, j_q its joints and κ_q their
cost,

    minimize    Σₛ cₛ·Σₚ xₚ + Σ_q κ_q·z_q
    subject to  Σₚ aᵢₚ·xₚ - Σ_q n_iq·z_q ≥ dᵢ   for every item
                Σ_q∈k z_q = 1                    for every stack
                l ≤ Σ_q j_q·z_q ≤ u              (number of joints)

and plans are generated like patterns: the cheapest plan of a stack for the prices π is found by best-first search over
shortest paths (`network`). A pattern may serve shorter items by an exchange column, which keeps π rising with size. The
bound adds, for every stack, the least that any plan costs at these prices. Stacks with no profile in common are split
off exactly. See `joint_master`, `joined` and, for branching on boards and joints together, `joint_tree`.

References: P. C. Gilmore, R. E. Gomory, Operations Research 9 (1961) 849-859 and 11 (1963) 863-888; A. A. Farley,
Operations Research 38 (1990) 922-923; G. B. Dantzig, P. Wolfe, Operations Research 8 (1960) 101-111; exchanges: J. M.
Valério de Carvalho, INFORMS Journal on Computing 17 (2005) 175-182 (from memory).
"""
