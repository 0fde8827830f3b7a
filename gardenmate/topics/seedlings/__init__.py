"""Mat, lamp, pots and hardening off."""
