"""What the record of a job needs: weight and balance."""
