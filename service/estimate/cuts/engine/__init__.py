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

The finish. A small remainder goes to the arc-flow model (Valério de Carvalho 1999): a flow of yₛ from 0 to Wₛ over
arcs (c, c + wᵢ), at least dᵢ on the arcs of item i. Its verdict is the solver's word, and is reported as such.

Joints. With a network a run (nodes: its ends and the places a joint may take; arcs: the pieces between) the
demand of a piece is what the paths take, each path pays for its joints, and joints of stacked runs keep apart by
rows Σ z ≤ 1 over every window of the stagger; see `network`.

References: P. C. Gilmore, R. E. Gomory, Operations Research 9 (1961) 849-859 and 11 (1963) 863-888; A. A. Farley,
Operations Research 38 (1990) 922-923; J. M. Valério de Carvalho, Annals of Operations Research 86 (1999) 629-659
(from memory).
"""
