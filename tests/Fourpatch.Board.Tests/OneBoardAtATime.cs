// The simulated runtime types reach the board through one static reference, as on a real chip there is only one.
[assembly: CollectionBehavior(DisableTestParallelization = true)]
