"""How a part is cut: stock, process, machine and job, the pace of the torch, and what the cut leaves."""
